#!/usr/bin/python3
"""The command from outside: exit status, where things are found, bad files, files that are written."""

import json
import os
import stat
import tempfile
import unittest
from pathlib import Path

from command import DEMOS, PROTOCOLS, ROOT, hangtime

FIRST = ROOT / "demo-data/transfusions/01-red-cells-adult.json"
WARD = ROOT / "demo-data/protocols/general-ward.json"


class Status(unittest.TestCase):
    def test_fits_is_0_and_does_not_fit_is_1(self):
        for path in DEMOS:
            status, out, err = hangtime("sheet", path)
            with self.subTest(path.name):
                self.assertEqual(status, 0 if "| Fits" in out else 1)
                self.assertEqual(err, "")
        self.assertEqual(hangtime("sheet", FIRST)[0], 0)
        self.assertEqual(hangtime("sheet", ROOT / "demo-data/transfusions/02-frail-does-not-fit.json")[0], 1)

    def test_a_limit_that_has_passed_is_1(self):
        self.assertEqual(hangtime("sheet", FIRST, "--now", "2026-03-14T14:00")[0], 0)
        status, out, _ = hangtime("sheet", FIRST, "--now", "2026-03-14T14:00:01")
        self.assertEqual(status, 1)
        self.assertIn("Decide by 14:00: The time to decide has passed.", " ".join(out.split()))

    def test_not_covered_is_1_in_every_form(self):
        path = ROOT / "demo-data/transfusions/10-not-covered.json"
        for form in ("text", "html", "json", "csv", "ics"):
            status, out, _ = hangtime("sheet", path, "--as", form)
            self.assertEqual(status, 1, form)
            if form != "csv":
                self.assertIn("Not covered here", out.replace("\\,", ","), form)

    def test_what_is_missing_is_1_and_said(self):
        incomplete = json.dumps({"hangtime_transfusion": 1, "protocol": "general-ward", "clock": {"utc_offset_min": 0},
                                 "now": "2026-03-14T13:45", "unit": {"component": "red_cells"}})
        status, out, _ = hangtime("sheet", "-", stdin=incomplete)
        self.assertEqual(status, 1)
        self.assertIn("Cannot be worked out yet", out)
        status, out, _ = hangtime("sheet", "-", "--as", "json", stdin=incomplete)
        self.assertEqual(json.loads(out)["missing"], ["volume", "issued", "start"])

    def test_the_same_file_gives_the_same_output(self):
        self.assertEqual(hangtime("sheet", FIRST, "--as", "ics"), hangtime("sheet", FIRST, "--as", "ics"))


class Refusals(unittest.TestCase):
    def refused(self, *words, stdin=None, cwd=ROOT):
        status, out, err = hangtime(*words, stdin=stdin, cwd=cwd)
        self.assertEqual((status, out), (2, ""), err)
        self.assertRegex(err, r"^.+; accepted: .+\n$")
        self.assertEqual(err.count("\n"), 1)
        return err

    def test_broken_transfusions(self):
        cases = json.loads((ROOT / "tests/broken/transfusions.json").read_text(encoding="utf-8"))["cases"]
        self.assertGreater(len(cases), 50)
        for case in cases:
            good = (ROOT / f"demo-data/transfusions/{case['file']}.json").read_text(encoding="utf-8")
            bad = good.replace(case["old"], case["new"], 1)
            with self.subTest(case["name"]):
                self.assertNotEqual(good, bad)
                err = self.refused("sheet", "-", stdin=bad)
                self.assertTrue(err.startswith(f"standard input: {case['where']}: "), err)
                self.assertIn(case["problem"], err)

    def test_broken_protocols(self):
        cases = json.loads((ROOT / "tests/broken/protocols.json").read_text(encoding="utf-8"))["cases"]
        self.assertGreater(len(cases), 50)
        for case in cases:
            good = (ROOT / f"demo-data/protocols/{case['file']}.json").read_text(encoding="utf-8")
            bad = good.replace(case["old"], case["new"], 1)
            with self.subTest(case["name"]):
                err = self.refused("protocol", "-", stdin=bad)
                self.assertIn(case["where"], err)
                self.assertIn(case["problem"], err)

    def test_every_truncated_file(self):
        whole = FIRST.read_text(encoding="utf-8").rstrip()
        for end in range(0, len(whole), 37):
            self.refused("sheet", "-", stdin=whole[:end] or " ")

    def test_usage(self):
        for words in ((), ("plan",), ("sheet",), ("sheet", FIRST, FIRST), ("sheet", FIRST, "--as", "pdf"),
                      ("card", WARD, "--as", "csv"), ("sheet", FIRST, "--now", "13:45"),
                      ("sheet", FIRST, "--now", "2026-03-14T13:45+02:00"), ("protocol", WARD, WARD, WARD),
                      ("sheet", ROOT), ("sheet", "no/such/file.json"), ("protocol", FIRST), ("sheet", WARD)):
            with self.subTest(words):
                self.refused(*words)

    def test_a_protocol_that_is_not_there_or_is_another(self):
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / "bag.json"
            copy.write_text(FIRST.read_text(encoding="utf-8"), encoding="utf-8")
            self.assertIn("there is no general-ward.json", self.refused("sheet", copy, cwd=folder))
            self.assertEqual(hangtime("sheet", copy, "--protocol", WARD, cwd=folder)[0], 0)
            self.assertEqual(hangtime("sheet", copy, "--protocols", WARD.parent, cwd=folder)[0], 0)
            self.assertIn("is not what", self.refused("sheet", copy, "--protocol", PROTOCOLS[0], cwd=folder))
            # Beside the file, too.
            (Path(folder) / "protocols").mkdir()
            (Path(folder) / "protocols/general-ward.json").write_text(WARD.read_text(encoding="utf-8"),
                                                                      encoding="utf-8")
            self.assertEqual(hangtime("sheet", copy, cwd=folder)[0], 0)


class Written(unittest.TestCase):
    def test_all_of_a_file_or_nothing(self):
        with tempfile.TemporaryDirectory() as folder:
            out = Path(folder) / "sheet.html"
            status, said, _ = hangtime("sheet", FIRST, "--as", "html", "--out", out)
            self.assertEqual((status, said), (0, ""))
            self.assertEqual(out.read_text(encoding="utf-8"), hangtime("sheet", FIRST, "--as", "html")[1])
            self.assertEqual(os.listdir(folder), ["sheet.html"])
            before = out.read_text(encoding="utf-8")
            self.assertEqual(hangtime("sheet", "-", "--out", out, stdin="{")[0], 2)
            self.assertEqual(out.read_text(encoding="utf-8"), before)
            self.assertEqual(os.listdir(folder), ["sheet.html"])

    def test_a_place_that_cannot_be_written(self):
        with tempfile.TemporaryDirectory() as folder:
            (Path(folder) / "in the way").mkdir()
            for place in ("none/such/sheet.txt", "in the way"):
                status, said, err = hangtime("sheet", FIRST, "--out", Path(folder) / place)
                self.assertEqual((status, said), (2, ""))
                self.assertIn("; accepted: ", err)
            self.assertEqual(os.listdir(folder), ["in the way"])

    @unittest.skipUnless(Path("/dev/full").exists() and stat.S_ISCHR(os.stat("/dev/full").st_mode), "no /dev/full")
    def test_a_full_disk_is_no_success(self):
        import subprocess
        from command import COMMAND
        with open("/dev/full", "wb") as full:
            done = subprocess.run([COMMAND, "sheet", FIRST], stdout=full, stderr=subprocess.PIPE, cwd=ROOT)
        self.assertEqual(done.returncode, 2)
        self.assertIn(b"cannot be written", done.stderr)


class Documents(unittest.TestCase):
    def test_protocols_and_cards_of_all_that_is_shipped(self):
        for path in PROTOCOLS:
            for command in ("protocol", "card"):
                for form in ("text", "html"):
                    status, out, err = hangtime(command, path, "--as", form)
                    with self.subTest(f"{command} {path.name} {form}"):
                        self.assertEqual((status, err), (0, ""))
                        self.assertIn("not adopted by a ward", " ".join(out.split()))

    def test_what_differs(self):
        status, out, _ = hangtime("protocol", WARD, WARD)
        self.assertEqual(status, 0)
        self.assertIn("Nothing differs", out)
        status, out, _ = hangtime("protocol", WARD, ROOT / "demo-data/protocols/removal-clock.json")
        self.assertEqual(status, 0)
        self.assertRegex(out, r"\d+ rules differ")

    def test_no_line_is_wider_than_80_but_for_addresses(self):
        for path in [*DEMOS]:
            for line in hangtime("sheet", path)[1].splitlines():
                self.assertTrue(len(line) <= 80 or "http" in line, line)


if __name__ == "__main__":
    unittest.main()
