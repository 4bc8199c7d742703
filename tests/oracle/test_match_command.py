#!/usr/bin/python3
"""`hangtime scan` and `hangtime compatible` from outside: their JSON by its schemas, exit status, every protocol."""

import itertools
import json
import tempfile
import unittest
from pathlib import Path

from jsonschema import Draft202012Validator

from command import PROTOCOLS, ROOT, hangtime

COMPONENTS = ("red_cells", "platelets", "plasma", "cryoprecipitate", "whole_blood", "granulocytes")
# Antigens on the red cells of each group; who lacks one has the antibody against it.
ANTIGENS = {"o": set(), "a": {"a"}, "b": {"b"}, "ab": {"a", "b"}}


def validator(name):
    schema = json.loads((ROOT / f"core/cli/{name}.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


class Scan(unittest.TestCase):
    def test_output_is_by_its_schema_and_the_status_says_whether_all_was_understood(self):
        check = validator("scan")
        for scans, status in [
            (["=A99992112345663=%6200", "=<E0398V00", "&>0260731340", "=*026070", "&$0101000100250000"], 0),
            (["=%5100", "KX7319044"], 1),
            (["=%9900"], 1),  # a group that is not recognised is not understood
            (["=A99992112345607", "=A99992112345664", "=>026000", "&$0101000100000000", "=+02000=%6200", "=,000012",
              "=<S1234100", "=%6200=%5100", "x" * 300, ""], 1),
        ]:
            got, out, err = hangtime("scan", "--as", "json", "--", *scans)
            self.assertEqual((got, err), (status, ""))
            tree = json.loads(out)
            self.assertEqual([e.message for e in check.iter_errors(tree)], [])
            self.assertEqual(len(tree["scans"]), len(scans))
            got, out, err = hangtime("scan", "--", *scans)
            self.assertEqual((got, err), (status, ""))
            self.assertIn("understood" if status == 0 else "not", out)

    def test_lines_of_standard_input_are_scans(self):
        status, out, _ = hangtime("scan", "-", "--as", "json", stdin="=%6200\r\n]C0=%5100\n\nKX7319044")
        self.assertEqual(status, 1)
        self.assertEqual([scan["result"] for scan in json.loads(out)["scans"]],
                         ["understood", "understood", "empty", "not_bag_data"])


class Compatible(unittest.TestCase):
    def test_every_component_under_every_protocol_is_by_its_schema_in_every_form(self):
        check = validator("compatible")
        for protocol, component in itertools.product(PROTOCOLS, COMPONENTS):
            with self.subTest(f"{protocol.name} {component}"):
                status, out, err = hangtime("compatible", component, "--protocol", protocol, "--as", "json")
                self.assertEqual((status, err), (0, ""))
                tree = json.loads(out)
                self.assertEqual([e.message for e in check.iter_errors(tree)], [])
                self.assertEqual(tree["protocol"], protocol.stem)
                for form in ("text", "html"):
                    status, out, err = hangtime("compatible", component, "--protocol", protocol, "--as", form)
                    self.assertEqual((status, err), (0, ""))
                    self.assertIn("No ward has adopted them", " ".join(out.split()))

    def test_red_cells_follow_the_antigens_under_every_protocol(self):
        for protocol, component in itertools.product(PROTOCOLS, ("red_cells", "granulocytes", "whole_blood")):
            _, out, _ = hangtime("compatible", component, "--protocol", protocol, "--as", "json")
            for row in json.loads(out)["abo"]:
                recipient = ANTIGENS[row["recipient"] or "o"]
                clash = ANTIGENS[row["unit"]] - recipient
                with self.subTest(f"{protocol.name} {component} {row}"):
                    if clash:
                        self.assertEqual(row["answer"], "no")
                    elif component != "whole_blood":
                        self.assertEqual(row["answer"], "yes" if row["recipient"] else "local_rule")
                    if row["recipient"] is None:
                        self.assertNotEqual(row["answer"], "yes")

    def test_a_protocol_without_rules_is_status_1_and_says_so(self):
        tree = json.loads((ROOT / "demo-data/protocols/half-hour-checks.json").read_text(encoding="utf-8"))
        del tree["match"]
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "old.json"
            path.write_text(json.dumps(tree), encoding="utf-8")
            status, out, err = hangtime("compatible", "platelets", "--protocol", path)
            self.assertEqual((status, err), (1, ""))
            self.assertIn("These rules say nothing about compatibility. Follow your own policy.", out)
            status, out, _ = hangtime("compatible", "red_cells", "--protocol", path, "--as", "json")
            self.assertEqual(status, 1)
            self.assertFalse(json.loads(out)["rules"])
            status, out, _ = hangtime("protocol", path)
            self.assertEqual(status, 0)

    def test_where_the_rules_are_looked_for(self):
        status, out, _ = hangtime("compatible", "plasma")
        self.assertEqual(status, 0)
        self.assertIn("General ward", out)
        with tempfile.TemporaryDirectory() as folder:
            status, out, err = hangtime("compatible", "plasma", "--protocols", folder)
            self.assertEqual((status, out), (2, ""))
            self.assertIn("there is no general-ward.json", err)
            target = Path(folder) / "out.html"
            status, out, err = hangtime("compatible", "plasma", "--as", "html", "--out", target)
            self.assertEqual((status, out, err), (0, "", ""))
            self.assertIn("<table", target.read_text(encoding="utf-8"))


if __name__ == "__main__":
    unittest.main()
