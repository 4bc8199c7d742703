#!/usr/bin/python3
"""`hangtime rehearse` and `hangtime review` from outside.

Scenarios and actions by their schemas (python3-jsonschema); exit status and refusals with their path; and the review
against a count of its own over the same logs, made here from the records alone and from the protocol's file. The logs
are attempts at the shipped rehearsals under several seeds, made into sessions by taking the word "rehearsal" (and the
sums, which a log written by hand may leave out) out of them. HANGTIME_REVIEW_SEEDS says how many seeds.
"""

import copy
import json
import os
import re
import tempfile
import unittest
from collections import defaultdict
from datetime import datetime
from pathlib import Path

from jsonschema import Draft202012Validator

from command import ROOT, hangtime

SCENARIOS = sorted((ROOT / "demo-data/rehearsals").glob("*.json"))
ACTIONS = sorted((ROOT / "demo-data/rehearsals/actions").glob("*.json"))
SEEDS = int(os.environ.get("HANGTIME_REVIEW_SEEDS", "2"))
FLOOR = 5


def schema(name):
    return Draft202012Validator(json.loads((ROOT / f"core/rehearse/{name}.schema.json").read_text(encoding="utf-8")))


def tree_of(path):
    return json.loads(path.read_text(encoding="utf-8"))


def attempts():
    for scenario in SCENARIOS:
        for which in ("model", "mistake"):
            yield scenario, ROOT / f"demo-data/rehearsals/actions/{scenario.stem}.{which}.json"


def session_of(scenario, actions, seed):
    """The log of an attempt, as if it had been real."""
    log = hangtime("rehearse", scenario, "--actions", actions, "--seed", seed, "--log")[1]
    log = log.replace('"rehearsal": true, ', "", 1)
    return re.sub(r', "sum": "[0-9a-f]{16}"}', "}", log)


def at(record):
    text = record["at"]
    whole = datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp()
    return int(whole) + record.get("second", 0)


def of(protocol, component, kind):
    return [l["within_min"] * 60 for l in protocol["components"][component]["limits"]
            if l["kind"] == kind and l["from"] == "issued"]


class Count:
    """What a review counts, from the records alone. Only what these sessions hold: one bag at a time, limits from issue
    (red cells in the shipped protocols have no other for these two), no corrections."""

    def __init__(self):
        self.groups = defaultdict(lambda: defaultdict(int))

    def add(self, log):
        records = [json.loads(line) for line in log.splitlines()]
        protocol = records[0]["protocol"]
        units, unit = [], None
        for record in records:
            what = record["what"]
            if what == "issued":
                unit = {"issued": at(record), "component": record["component"], "early": None}
                units.append(unit)
            if unit is None:
                continue
            if what in ("spiked", "started", "all_in", "stopped", "consent_withdrawn", "discarded", "bag_kept"):
                unit.setdefault(what, at(record))
            if what == "returned":
                unit["returned"], unit["to"] = at(record), record["to"]
            if what in ("returned", "discarded"):
                unit["reason"] = record["reason"]
            if what in ("paused", "reaction_suspected"):
                unit["pauses"] = unit.get("pauses", 0) + 1
            if what == "observed" and record.get("check") == "early" and unit["early"] is None:
                unit["early"] = at(record)
        for unit in units:
            self.unit(protocol, unit)

    def unit(self, protocol, unit):
        g = self.groups[protocol["id"], unit["component"]]
        g["units"] += 1

        def tally(name, yes):
            g[name, "of"] += 1
            g[name, "yes"] += bool(yes)
        ended = min([unit[k] for k in ("all_in", "stopped", "consent_withdrawn") if k in unit], default=None)
        stopped = ended is not None and unit.get("all_in") != ended
        hang, finish = (of(protocol, unit["component"], k) for k in ("hang", "finish"))
        if "spiked" in unit and hang:
            tally("hung_in_time", unit["spiked"] <= unit["issued"] + min(hang))
        if ended is not None and not stopped and finish:
            tally("finished_in_time", ended <= unit["issued"] + min(finish))
        if "started" in unit:
            tally("run_unpaused", not unit.get("pauses"))
            g["pauses"] += unit.get("pauses", 0)
            if unit["early"] is not None:
                rule, grace = protocol["checks"]["early"][0], protocol["checks"]["grace"]["late_after_min"]
                tally("early_on_time", unit["early"] <= unit["started"] + (rule["after_min"] + grace) * 60)
        if ended is not None or "returned" in unit or "discarded" in unit:
            tally("not_wasted", unit.get("to") == "stock" or (ended is not None and not stopped))
        for how in ("returned", "discarded"):
            g[how] += how in unit
        if "reason" in unit:
            g["reason", unit["reason"]] += 1


class Rehearse(unittest.TestCase):
    def test_scenarios_and_actions_are_valid_and_refuse_what_is_not_known(self):
        self.assertGreaterEqual(len(SCENARIOS), 10)
        self.assertEqual(len(ACTIONS), 2 * len(SCENARIOS))
        for name, files in (("scenario", SCENARIOS), ("actions", ACTIONS)):
            check = schema(name)
            Draft202012Validator.check_schema(check.schema)
            for path in files:
                tree = tree_of(path)
                self.assertEqual([e.message for e in check.iter_errors(tree)], [], path.name)
                for key in list(tree):
                    changed = copy.deepcopy(tree)
                    del changed[key]
                    if key not in ("seed", "sources"):
                        self.assertFalse(check.is_valid(changed), key)
                changed = {**tree, "patient_name": "x"}
                self.assertFalse(check.is_valid(changed))
        for path in SCENARIOS:
            status, out, err = hangtime("rehearse", "-", "--protocols", ROOT / "demo-data/protocols",
                                        stdin=json.dumps({**tree_of(path), "patient_name": "x"}))
            self.assertEqual((status, out), (2, ""))
            self.assertIn("patient_name: is not known here", err)

    def test_model_solutions_end_with_0_and_mistakes_with_1(self):
        for scenario, actions in attempts():
            status, out, err = hangtime("rehearse", scenario, "--actions", actions, "--as", "json")
            got = json.loads(out)
            self.assertEqual(err, "")
            self.assertEqual(status, 0 if ".model." in actions.name else 1, actions.name)
            self.assertIs(got["rehearsal"], True)
            self.assertEqual(got["points"], sum(p["points"] for p in got["parts"]))
            self.assertEqual(got["most"], sum(p["most"] for p in got["parts"]))

    def test_a_scenario_out_of_a_log_is_one(self):
        log = session_of(SCENARIOS[0], ACTIONS[1], 3)
        status, made, err = hangtime("rehearse", "-", "--make", stdin=log)
        self.assertEqual((status, err), (0, ""))
        self.assertEqual([e.message for e in schema("scenario").iter_errors(json.loads(made))], [])
        self.assertEqual(hangtime("rehearse", "-", "--check", stdin=made)[0], 0)

    def test_what_does_not_go_together_is_refused(self):
        for words in (["--seed", "3"], ["--log"], ["--check", "--log"], ["--make", "--check"],
                      ["--actions", ACTIONS[0], "--seed", "1000"], ["--actions", SCENARIOS[0]]):
            status, out, err = hangtime("rehearse", SCENARIOS[0], *words)
            self.assertEqual((status, out), (2, ""), words)
            self.assertEqual(err.count("\n"), 1)
        broken = tree_of(SCENARIOS[0])
        broken["before"][0], broken["before"][-1] = {**broken["before"][0], "record": {"what": "all_in"}}, broken["before"][-1]
        err = hangtime("rehearse", "-", "--protocols", ROOT / "demo-data/protocols", stdin=json.dumps(broken))[2]
        self.assertIn("before[0].record: is refused: not_started", err)


class ReviewOfSessions(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.files = []
        self.count = Count()
        for scenario, actions in attempts():
            for seed in range(SEEDS):
                log = session_of(scenario, actions, seed)
                self.files.append(Path(self.folder.name) / f"{actions.stem}.{seed}.log")
                self.files[-1].write_text(log, encoding="utf-8")
                self.count.add(log)

    def tearDown(self):
        self.folder.cleanup()

    def test_counts_are_those_of_an_independent_count(self):
        status, out, err = hangtime("review", *self.files, "--as", "json", "--floor", "1")
        self.assertEqual((status, err), (0, ""))
        got = json.loads(out)
        self.assertEqual(got["sessions_at_least"], len(self.files))
        self.assertEqual({(g["protocol"], g["component"]) for g in got["groups"]}, set(self.count.groups))
        for g in got["groups"]:
            want = self.count.groups[g["protocol"], g["component"]]
            self.assertEqual(g["units"], want["units"])
            measures = g["measures"]
            for name in ("hung_in_time", "finished_in_time", "run_unpaused", "not_wasted"):
                self.assertEqual((measures[name]["yes"], measures[name]["of"]), (want[name, "yes"], want[name, "of"]), name)
            # Of those that were made; that none was made is for the reckoning to say.
            self.assertEqual(measures["early_on_time"]["yes"], want["early_on_time", "yes"])
            self.assertGreaterEqual(measures["early_on_time"]["of"], want["early_on_time", "of"])
            self.assertEqual(g["pauses"]["times"], want["pauses"])
            for name in ("returned", "discarded"):
                self.assertEqual(g[name], want[name], name)
            self.assertEqual({k: r["times"] for k, r in g["gone"]["reasons"].items()},
                             {k[1]: n for k, n in want.items() if k[0] == "reason"})

    def test_what_is_below_the_floor_is_nowhere(self):
        for form in ("json", "csv", "text", "html"):
            out = hangtime("review", *self.files, "--as", form)[1]
            self.assertNotIn("children-by-weight", out)  # fewer units than the floor

    def test_damaged_files_and_rehearsals_are_named_and_left_out(self):
        whole = json.loads(hangtime("review", *self.files, "--as", "json")[1])
        bad = Path(self.folder.name) / "bad.log"
        bad.write_text(self.files[0].read_text(encoding="utf-8")[:-40], encoding="utf-8")
        drill = Path(self.folder.name) / "drill.log"
        drill.write_text(hangtime("rehearse", SCENARIOS[0], "--actions", ACTIONS[1], "--log")[1], encoding="utf-8")
        status, out, err = hangtime("review", *self.files, bad, drill, Path(self.folder.name) / "none.log", "--as", "json")
        got = json.loads(out)
        self.assertEqual(status, 1)
        self.assertEqual([Path(f["file"]).name for f in got["left_out"]], ["bad.log", "drill.log", "none.log"])
        self.assertIn("is a rehearsal", err)
        self.assertEqual(got["groups"], whole["groups"])
        self.assertEqual(hangtime("review", drill)[0], 2)


if __name__ == "__main__":
    unittest.main()
