#!/usr/bin/python3
"""Round files and what the command makes of them: both by their schemas (python3-jsonschema), and every time of every plan held
against the file's own times with Python's datetime, without our solver.
"""

import copy
import json
import unittest
from datetime import datetime, timedelta, timezone
from pathlib import Path

from command import ROOT, hangtime
from jsonschema import Draft202012Validator

DEMOS = sorted((ROOT / "demo-data/rounds").glob("*.json"))
SCHEMA = json.loads((ROOT / "core/round/round.schema.json").read_text(encoding="utf-8"))
OUTPUT = Draft202012Validator(json.loads((ROOT / "core/cli/round.schema.json").read_text(encoding="utf-8")))


def objects(node, path=()):
    if isinstance(node, dict):
        yield path
        for key, value in node.items():
            yield from objects(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from objects(value, (*path, index))


class RoundFiles(unittest.TestCase):
    def test_the_schema_takes_the_demo_rounds_and_nothing_unknown(self):
        Draft202012Validator.check_schema(SCHEMA)
        check = Draft202012Validator(SCHEMA)
        self.assertGreater(len(DEMOS), 4)
        for path in DEMOS:
            tree = json.loads(path.read_text(encoding="utf-8"))
            with self.subTest(path.name):
                self.assertEqual([e.message for e in check.iter_errors(tree)], [])
                for where in objects(tree):
                    changed = copy.deepcopy(tree)
                    node = changed
                    for step in where:
                        node = node[step]
                    node["patient_name"] = "x"
                    self.assertFalse(check.is_valid(changed), where)

    def test_what_is_printed_is_as_its_schema_says_and_holds_nothing_unknown(self):
        Draft202012Validator.check_schema(OUTPUT.schema)
        standings = set()
        for path in DEMOS:
            _, out, err = hangtime("round", path, "--as", "json")
            self.assertEqual(err, "")
            plan = json.loads(out)
            standings.add(plan["standing"])
            with self.subTest(path.name):
                self.assertEqual([f"{list(e.absolute_path)}: {e.message}" for e in OUTPUT.iter_errors(plan)], [])
                for where in objects(plan):
                    changed = copy.deepcopy(plan)
                    node = changed
                    for step in where:
                        node = node[step]
                    node["patient_name"] = "x"
                    self.assertFalse(OUTPUT.is_valid(changed), where)
        self.assertEqual(standings, {"optimal", "infeasible"})

    def test_every_plan_keeps_to_the_files_own_times(self):
        planned = 0
        self.seen = set()
        for path in DEMOS:
            tree = json.loads(path.read_text(encoding="utf-8"))
            status, out, err = hangtime("round", path, "--as", "json")
            self.assertEqual(err, "")
            plan = json.loads(out)
            self.assertEqual(status, 1 if plan["standing"] == "infeasible" else 0)
            if plan["standing"] == "infeasible":
                self.assertTrue(plan["conflict"]["demands"])
                continue
            planned += 1
            with self.subTest(path.name):
                self.hold(tree, plan)
        self.assertGreater(planned, 3)
        self.assertEqual(self.seen, {"follows", "apart", "beside"})

    def hold(self, tree, plan):
        offset = timezone(timedelta(minutes=tree["clock"]["utc_offset_min"]))

        def at(text):
            when = datetime.fromisoformat(text)
            return when if when.tzinfo else when.replace(tzinfo=offset)

        protocol = json.loads((ROOT / f"demo-data/protocols/{tree['protocol']}.json").read_text(encoding="utf-8"))
        grace = timedelta(minutes=protocol["checks"]["grace"]["late_after_min"])
        match = timedelta(minutes=protocol["round"]["match"]["takes_min"])
        attended = timedelta(minutes=protocol["round"]["attended"]["first_min"])
        busy = [[] for _ in tree["nurses"]]
        weighted = 0
        for asked, got in zip(tree["transfusions"], plan["transfusions"]):
            self.assertEqual(asked["object"], got["object"])
            if got["plan"] is None:
                continue
            p, call = got["plan"], asked["call"]
            ready = timedelta(minutes=call.get("ready_min", protocol["round"]["call"]["ready_min"]))
            transport = timedelta(minutes=call.get("transport_min", protocol["round"]["call"]["transport_min"]))
            start = at(p["start_at"])
            self.assertLessEqual(at(p["all_in_at"]), at(p["finish_by"]))
            minutes = (at(p["all_in_at"]) - at(tree["from"])).total_seconds() / 60
            weighted += asked.get("weight", 1) * -(-minutes // 1)
            if "happened" not in asked:
                self.assertLessEqual(at(call["earliest"]), at(p["call_at"]))
                self.assertLessEqual(at(p["call_at"]), at(call["latest"]))
                self.assertEqual(at(p["call_at"]) + ready, at(p["issued_at"]))
                self.assertLessEqual(at(p["issued_at"]) + transport + match, start)
                busy[p["nurse"] - 1].append((start - match, start + attended))
                if p["second"]:
                    self.assertNotEqual(p["second"], p["nurse"])
                    busy[p["second"] - 1].append((start - match, start))
                self.assertEqual(p["second"] is not None, tree["match_second"] == "round")
            for check in p["checks"]:
                self.assertLessEqual(at(check["due_at"]), at(check["at"]))
                late = at(check["at"]) - at(check["due_at"])
                if "happened" not in asked:
                    self.assertLessEqual(late, grace)
                # A slot of the grid.
                since = (at(check["at"]) - at(tree["from"])) // timedelta(minutes=5)
                slot = at(tree["from"]) + since * timedelta(minutes=5)
                busy[check["nurse"] - 1].append((slot, slot + timedelta(minutes=5)))
                for hand in tree["nurses"][p["nurse"] - 1].get("handovers", []):
                    self.assertFalse(at(hand["from"]) <= at(check["due_at"]) < at(hand["until"]))
        for nurse, stretches in zip(tree["nurses"], busy):
            stretches.sort()
            for one, two in zip(stretches, stretches[1:]):
                self.assertLessEqual(one[1], two[0])
            for begin, end in stretches:
                self.assertTrue(any(at(h["from"]) <= begin and end <= at(h["until"]) for h in nurse["hours"]))
                for away in nurse.get("breaks", []) + nurse.get("handovers", []):
                    self.assertTrue(end <= at(away["from"]) or at(away["until"]) <= begin)
        self.assertEqual(weighted, plan["cost"]["weighted_min"])
        self.persons(tree, plan, protocol, at, match)

    def persons(self, tree, plan, protocol, at, match):
        """Units of one person one after another, or over two lines under the ceiling of each."""
        asked = {t["object"]: t for t in tree["transfusions"]}
        person = {}
        for t in tree["transfusions"]:  # a link stands below what it names
            other = t.get("follows") or t.get("same_person") or t.get("beside")
            person[t["object"]] = person[other] if other else t["object"]
        numbers = {}
        for got in plan["transfusions"]:
            self.assertEqual(numbers.setdefault(person[got["object"]], got["person"]), got["person"])
        self.assertEqual(len(set(numbers.values())), len(numbers))
        planned = [t for t in plan["transfusions"] if t["plan"]]
        for i, one in enumerate(planned):
            for other in planned[:i]:
                if one["person"] != other["person"]:
                    continue
                a, b = asked[one["object"]], asked[other["object"]]
                if a["object"] == b.get("beside") or b["object"] == a.get("beside"):
                    self.seen.add("beside")
                    both = one["plan"]["highest_ml_per_h"] + other["plan"]["highest_ml_per_h"]
                    for t in (a, b):
                        self.assertLessEqual(both, protocol["components"][t["component"]]["highest"]["rate_ml_per_h"])
                    for got, t in ((one, b), (other, a)):
                        self.assertEqual(got["other_line_ml_per_h"], t["order"]["max_rate_ml_per_h"])
                    continue
                first, second = sorted((one["plan"], other["plan"]), key=lambda p: at(p["start_at"]))
                self.assertLessEqual(at(first["all_in_at"]) + match, at(second["start_at"]))
                self.seen.add("apart" if a.get("same_person") or b.get("same_person") else "follows")

    def test_a_broken_round_is_one_line_with_its_path(self):
        text = DEMOS[0].read_text(encoding="utf-8").replace('"bag_ml": 316, ', "", 1)
        status, out, err = hangtime("round", "-", "--protocols", ROOT / "demo-data/protocols", stdin=text)
        self.assertEqual((status, out), (2, ""))
        self.assertIn("transfusions[0].bag_ml", err)
        self.assertEqual(err.count("\n"), 1)


if __name__ == "__main__":
    unittest.main()
