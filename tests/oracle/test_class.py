#!/usr/bin/python3
"""The summary of a class against a count of the same results in Python, and that a result holds nothing but what its schema
says."""

import copy
import csv
import io
import json
import tempfile
import unittest
from collections import Counter
from pathlib import Path

from jsonschema import Draft202012Validator

from command import ROOT, hangtime

SCENARIOS = sorted((ROOT / "demo-data/rehearsals").glob("*.json"))
def schema(name):
    return Draft202012Validator(json.loads((ROOT / f"core/rehearse/{name}.schema.json").read_text(encoding="utf-8")))


SCHEMA, SUMMARY = schema("result"), schema("class")


class Class(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.files = []
        for scenario in SCENARIOS[:6]:
            for seed, which in enumerate(("model", "mistake", "mistake", "model", "mistake")):
                actions = ROOT / f"demo-data/rehearsals/actions/{scenario.stem}.{which}.json"
                result = hangtime("rehearse", scenario, "--actions", actions, "--seed", seed, "--as", "json")[1]
                cls.files.append(Path(cls.folder.name) / f"A. Learner {len(cls.files)}.json")
                cls.files[-1].write_text(result, encoding="utf-8")
        cls.results = [json.loads(file.read_text(encoding="utf-8")) for file in cls.files]

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def test_results_are_as_their_schema_says(self):
        Draft202012Validator.check_schema(SCHEMA.schema)
        for result in self.results:
            self.assertEqual([e.message for e in SCHEMA.iter_errors(result)], [])

    def test_counts_are_those_of_an_independent_count(self):
        status, out, err = hangtime("class", *self.files, "--as", "json")
        self.assertEqual((status, err), (0, ""))
        got = json.loads(out)
        self.assertEqual([e.message for e in SUMMARY.iter_errors(got)], [])
        self.assertEqual(got["attempts"], len(self.results))
        self.assertEqual(len(got["cases"]), 6)
        for case in got["cases"]:
            mine = [r for r in self.results if (r["scenario"], r["protocol"]) == (case["scenario"], case["protocol"])]
            self.assertEqual(case["attempts"], len(mine))
            self.assertEqual(case["points"], sorted(r["points"] for r in mine))
            self.assertEqual(case["case_numbers"], sorted({r["case_number"] for r in mine}))
            self.assertEqual(case["wasted"], sum(any(u["wasted_units"] for u in r["units"]) for r in mine))
            self.assertEqual(case["over_limit"], sum(any(u["over_limit_s"] for u in r["units"]) for r in mine))
            self.assertEqual(case["refused"], dict(Counter(why for r in mine for why in {x["why"] for x in r["refused"]})))
            for place, item in enumerate(case["items"]):
                parts = [r["parts"][place] for r in mine]
                self.assertEqual(item["item"], parts[0]["item"])
                self.assertEqual(item["met"], sum(p["met"] for p in parts))
                late = [p for p in parts if not p["met"] and p["due"] and p["done"] and p["done"] > p["due"]]
                self.assertEqual(item["late"], len(late))
                self.assertEqual(item["met"] + item["not_done"] + item["late"] + item["otherwise"], len(mine))

    def test_the_schema_of_a_summary_refuses_what_could_name_somebody(self):
        Draft202012Validator.check_schema(SUMMARY.schema)
        good = json.loads(hangtime("class", *self.files, "--as", "json")[1])
        self.assertTrue(any("late_in_the_middle_s" in item for case in good["cases"] for item in case["items"]))
        for change in (lambda c: c.update(by="A. Learner"), lambda c: c["cases"][0].update(name="A. Learner"),
                       lambda c: c["cases"][0]["items"][0].update(who="A. Learner"),
                       lambda c: c["left_out"].append({"file": "A. Learner.json", "why": "is no result"}),
                       lambda c: c.pop("rehearsal")):
            changed = copy.deepcopy(good)
            change(changed)
            self.assertFalse(SUMMARY.is_valid(changed))

    def test_nobody_is_named(self):
        for form in ("text", "html", "json", "csv"):
            status, out, _ = hangtime("class", *self.files, self.files[0].parent / "B. Learner.json", "--as", form)
            self.assertEqual(status, 1)
            self.assertNotIn("Learner", out)

    def test_a_result_that_holds_more_is_left_out_and_named_by_its_place(self):
        changes = {"name": lambda r: r.update(name="A. Learner"),
                   "parts[0].by": lambda r: r["parts"][0].update(by="A. Learner"),
                   "rehearsal": lambda r: r.update(rehearsal=False),
                   "points": lambda r: r.update(points=r["points"] + 1),
                   "parts": lambda r: r["parts"].reverse()}
        for where, change in changes.items():
            result = copy.deepcopy(self.results[0])
            change(result)
            bad = Path(self.folder.name) / "changed.json"
            bad.write_text(json.dumps(result), encoding="utf-8")
            status, out, err = hangtime("class", self.files[0], bad, "--as", "json")
            self.assertEqual(status, 1, where)
            self.assertEqual([e.message for e in SUMMARY.iter_errors(json.loads(out))], [])
            left = json.loads(out)["left_out"]
            self.assertEqual([x["file"] for x in left], ["file 2"])
            self.assertTrue(left[0]["why"].startswith(where), (where, left))
            self.assertIn("changed.json", err)
        self.assertEqual(hangtime("class", bad)[0], 0)   # by itself it is the first of its kind
        status, out, err = hangtime("class", SCENARIOS[0])
        self.assertEqual((status, out), (2, ""))
        self.assertIn("no file can be used", err)

    def test_the_table_for_a_spreadsheet(self):
        rows = list(csv.DictReader(io.StringIO(hangtime("class", *self.files, "--as", "csv")[1], newline="")))
        self.assertEqual(len(rows), sum(len({r["scenario"]: r for r in self.results}[s]["parts"]) for s in {r["scenario"] for r in self.results}))
        for row in rows:
            self.assertEqual(int(row["met"]) + int(row["not done"]) + int(row["late"]) + int(row["otherwise"]), int(row["attempts"]))


if __name__ == "__main__":
    unittest.main()
