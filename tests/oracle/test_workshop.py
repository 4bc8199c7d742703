"""What another protocol would change in the demo transfusions, held against the sheets themselves: each case is written
once under either protocol by `hangtime sheet --as json`, and the two answers are compared here."""

import json
import re
import tempfile
import unittest
from pathlib import Path

from command import DEMOS, PROTOCOLS, ROOT, hangtime

FOLDER = ROOT / "demo-data/protocols"


def title(path):
    words = re.sub(r"^[0-9-]*", "", path.stem).replace("-", " ")
    return words[:1].upper() + words[1:]


def answers(case, protocol):
    """What the comparison is about, out of the sheet's JSON: everything but why and wherefrom. None: not covered."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "case.json"
        given = json.loads(case.read_text(encoding="utf-8"))
        given["protocol"] = json.loads(protocol.read_text(encoding="utf-8"))["id"]
        copy.write_text(json.dumps(given), encoding="utf-8")
        code, out, err = hangtime("sheet", copy, "--as", "json", "--protocol", protocol)
    if code == 2:
        return err.split(": ", 1)[1]
    sheet = json.loads(out)
    if sheet["result"] not in ("planned", "not_planned", "missing"):
        return None
    clock = lambda moment: moment and moment["clock"]
    found = {"start_by": clock(sheet["start_by"]), "finish_by": clock(sheet["finish_by"]),
             "windows": [(w["kind"], clock(w["latest"])) for w in sheet["windows"]
                         if w["binds"] and w["latest"] and w["kind"] not in ("start", "finish")],
             "missing": sheet["missing"]}
    if sheet["plan"]:
        plan = sheet["plan"]
        found |= {"verdict": plan["verdict"]["code"], "all_in": clock(plan["all_in"]),
                  "rates": [stage["rate"] for stage in plan["stages"]],
                  "checks": sorted((check["kind"], clock(check["due"])) for check in plan["checks"])}
        if found["verdict"] == "does_not_fit":
            found["most"] = [plan["verdict"][key] for key in ("can_give", "largest_bag")]
    return found


class Cases(unittest.TestCase):
    def test_a_case_changes_exactly_where_its_sheets_differ(self):
        seen = {True: 0, False: 0}
        for old in PROTOCOLS:
            for new in PROTOCOLS:
                code, out, err = hangtime("protocol", old, new, "--cases", ROOT / "demo-data/transfusions")
                self.assertEqual((code, err), (0, ""))
                changed, _, rest = re.sub(r"\s+", " ", out).partition("Nothing changes in ")
                for case in DEMOS:
                    a, b = answers(case, old), answers(case, new)
                    differs = a != b
                    seen[differs] += 1
                    with self.subTest(f"{case.stem}: {old.stem} and {new.stem}"):
                        if old == new:
                            self.assertIn("these 12 cases", rest)
                        self.assertIn(title(case), changed if differs else rest)
        self.assertGreater(seen[True], 50)
        self.assertGreater(seen[False], 50)

    def test_the_card_names_both_wards_with_their_dates(self):
        usual, here = FOLDER / "general-ward.json", FOLDER / "removal-clock.json"
        code, out, err = hangtime("card", usual, here)
        self.assertEqual((code, err), (0, ""))
        for path in (usual, here):
            p = json.loads(path.read_text(encoding="utf-8"))
            self.assertIn(f"{p['title']}, revised {p['revised']}", re.sub(r"\s+", " ", out))

    def test_a_folder_without_cases_is_refused(self):
        usual = FOLDER / "general-ward.json"
        for folder, problem in ((ROOT / "scripts", "has no file that ends in .json"), (ROOT / "nothing", "cannot be opened"),
                                (FOLDER, "hangtime_transfusion")):
            code, out, err = hangtime("protocol", usual, usual, "--cases", folder)
            with self.subTest(str(folder)):
                self.assertEqual((code, out), (2, ""))
                self.assertIn(problem, err)


if __name__ == "__main__":
    unittest.main()
