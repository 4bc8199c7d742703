#!/usr/bin/python3
"""`hangtime observe` from outside: demos by their schema, exit status, every form, refusals with their path.

The schema is held by python3-jsonschema; temperatures are held against Python's fractions.
"""

import copy
import json
import unittest
from fractions import Fraction

from jsonschema import Draft202012Validator

from command import ROOT, hangtime

DEMOS = sorted((ROOT / "demo-data/observations").glob("*.json"))
OUTPUT = json.loads((ROOT / "core/cli/observe.schema.json").read_text(encoding="utf-8"))
SCHEMA = json.loads((ROOT / "core/report/observations.schema.json").read_text(encoding="utf-8"))


def tree_of(path):
    return json.loads(path.read_text(encoding="utf-8"))


def observe(tree, form="json"):
    return hangtime("observe", "-", "--as", form, "--protocols", ROOT / "demo-data/protocols",
                    stdin=json.dumps(tree))


def output_checks():
    """The schema of the output; what it refers to of the input's stands in its place."""
    return Draft202012Validator(json.loads(json.dumps(OUTPUT).replace(
        json.dumps({"$ref": "urn:hangtime:observations:1#/$defs/observation"}),
        json.dumps(SCHEMA["$defs"]["observation"]))))


def minimal(before, now, rule_set="both-limbs"):
    return {"hangtime_observations": 1, "protocol": "general-ward", "rule_set": rule_set,
            "person": {"age": "adult"}, "baseline": {"from_start_min": 0, "observed": before},
            "sets": [{"from_start_min": 15, "observed": now}]}


def objects(node, path=()):
    if isinstance(node, dict):
        yield path
        for key, value in node.items():
            yield from objects(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from objects(value, (*path, index))


class Observe(unittest.TestCase):
    def test_demos_are_valid_and_run_in_every_form(self):
        Draft202012Validator.check_schema(SCHEMA)
        check = Draft202012Validator(SCHEMA)
        self.assertGreaterEqual(len(DEMOS), 3)
        for path in DEMOS:
            tree = tree_of(path)
            self.assertEqual([e.message for e in check.iter_errors(tree)], [], path.name)
            stops = None
            for form in ("text", "html", "json"):
                status, out, err = hangtime("observe", path, "--as", form)
                self.assertEqual(err, "", path.name)
                if form == "json":
                    got = json.loads(out)
                    self.assertEqual([e.message for e in output_checks().iter_errors(got)], [], path.name)
                    stops = any(s["stops"] for s in got["sets"])
                    self.assertEqual([s["observed"] for s in got["sets"]], [s["observed"] for s in tree["sets"]])
                    self.assertIn("not ruled out", got["note"])
                else:
                    self.assertIn("not ruled out", " ".join(out.split()))
                    self.assertIn("not a medical device", " ".join(out.split()))
            self.assertEqual(status, 1 if stops else 0, path.name)

    def test_output_is_by_its_schema_and_the_schema_refuses_what_is_not(self):
        Draft202012Validator.check_schema(OUTPUT)
        check = output_checks()
        seen = set()
        everything = {"temperature_c": 39.6, "pulse_per_min": 140, "systolic_mmhg": 78, "diastolic_mmhg": 40,
                      "mean_mmhg": 52, "respirations_per_min": 30, "saturation_percent": 88, "on_oxygen": False,
                      "consciousness": "confused", "lungs": "crackles", "site": "oozing", "urine": "dark",
                      "symptoms": ["rigors", "breathlessness", "back_pain"]}
        quiet = {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "diastolic_mmhg": 72,
                 "mean_mmhg": 89, "respirations_per_min": 16, "saturation_percent": 97, "on_oxygen": False,
                 "consciousness": "alert", "lungs": "clear", "site": "good", "urine": "usual", "symptoms": []}
        for before, now in ((quiet, everything), (everything, everything), ({}, {}), (quiet, {}), ({}, everything)):
            for rule_set in ("both-limbs", "either-limit"):
                got = json.loads(observe(minimal(before, now, rule_set))[1])
                self.assertEqual([e.message for e in check.iter_errors(got)], [])
                seen |= {prompt["code"] for part in (got["baseline"], *got["sets"]) for prompt in part["prompts"]}
                for where in objects(got):
                    changed = copy.deepcopy(got)
                    node = changed
                    for step in where:
                        node = node[step]
                    node["reaction"] = "none"
                    self.assertFalse(check.is_valid(changed), where)
                    for key in [k for k in node if k != "reaction"]:
                        if "observed" in where or where and where[-1] == "observed":
                            continue  # what is not recorded is left out there
                        less = copy.deepcopy(got)
                        part = less
                        for step in where:
                            part = part[step]
                        del part[key]
                        self.assertFalse(check.is_valid(less), (where, key))
        self.assertGreaterEqual(len(seen), 12)
        codes = {code for code in OUTPUT["$defs"]["prompt"]["properties"]["code"]["enum"]}
        self.assertLessEqual(seen, codes)

    def test_nothing_recorded_is_missing_and_never_said_to_be_well(self):
        status, out, _ = observe(minimal({}, {}))
        got = json.loads(out)
        self.assertEqual(status, 0)
        self.assertEqual(got["sets"][0]["prompts"], [])
        self.assertEqual(len(got["sets"][0]["not_compared"]), 12)
        self.assertFalse(got["sets"][0]["score"]["complete"])
        text = observe(minimal({}, {}), "text")[1].lower()
        for word in ("no reaction", "normal", "all clear", "no change"):
            self.assertNotIn(word, text)

    def test_any_key_that_is_not_known_is_refused_by_both(self):
        check = Draft202012Validator(SCHEMA)
        for path in DEMOS:
            tree = tree_of(path)
            for where in objects(tree):
                changed = copy.deepcopy(tree)
                node = changed
                for step in where:
                    node = node[step]
                node["patient_name"] = "x"
                self.assertFalse(check.is_valid(changed), where)
                status, out, err = observe(changed)
                self.assertEqual((status, out), (2, ""))
                self.assertIn("patient_name: is not known here", err)

    def test_what_is_wrong_is_refused_where_it_is(self):
        check = Draft202012Validator(SCHEMA)
        cases = [
            # before, now, where and what, whether the schema can say it
            ({}, {"temperature_c": 24.9}, "sets[0].observed.temperature_c: 24.9 is too small", True),
            ({}, {"temperature_c": 37, "temperature_f": 98.6}, "sets[0].observed.temperature_f: is there beside", True),
            ({"pulse_per_min": 321}, {}, "baseline.observed.pulse_per_min: 321 is too large", True),
            ({"lungs": "noisy"}, {}, "baseline.observed.lungs: \"noisy\" is not one of the choices", True),
            ({}, {"symptoms": ["rash", "rash"]}, "sets[0].observed.symptoms[1]: is there twice", True),
            ({}, {"systolic_mmhg": 80, "diastolic_mmhg": 80}, "diastolic_mmhg: is not below systolic_mmhg", False),
            ({}, {"on_oxygen": None}, "sets[0].observed.on_oxygen: is null", True),
        ]
        for before, now, words, said in cases:
            tree = minimal(before, now)
            status, out, err = observe(tree)
            self.assertEqual((status, out), (2, ""), words)
            self.assertTrue(err.startswith("standard input: "), err)
            self.assertIn(words, err)
            self.assertIn("; accepted: ", err)
            self.assertEqual(check.is_valid(tree), not said, words)
        tree = minimal({}, {}, "nobody-s")
        self.assertIn("rule_set: \"nobody-s\" is not among the protocol's rule sets; accepted: both-limbs or "
                      "either-limit", observe(tree)[2])
        tree = minimal({}, {})
        tree["sets"].append(copy.deepcopy(tree["sets"][0]))
        self.assertIn("sets[1]: is not later than the set before it", observe(tree)[2])

    def test_fever_by_both_limits_against_fractions(self):
        # t/F = 9/5 t/C + 32 (NIST SP 811); the rule: at least 38 C and up by at least 1 C.
        def celsius(key, tenths):
            value = Fraction(tenths, 10)
            return value if key == "temperature_c" else (value - 32) * Fraction(5, 9)
        readings = [("temperature_c", t) for t in (365, 369, 370, 371, 379, 380, 381)]
        readings += [("temperature_f", t) for t in (977, 985, 986, 987, 1003, 1004, 1005)]
        for before in readings:
            tree = minimal({before[0]: before[1] / 10}, {})
            tree["sets"] = [{"from_start_min": i, "observed": {key: t / 10}} for i, (key, t) in enumerate(readings)]
            for now, got in zip(readings, json.loads(observe(tree)[1])["sets"]):
                wanted = celsius(*now) >= 38 and celsius(*now) - celsius(*before) >= 1
                codes = [p["code"] for p in got["prompts"]]
                self.assertEqual("fever" in codes, wanted, (before, now))

    def test_rule_sets_disagree(self):
        tree = minimal({"temperature_c": 36.4}, {"temperature_c": 37.9})
        self.assertEqual(observe(tree)[0], 0)
        tree["rule_set"] = "either-limit"
        status, out, _ = observe(tree)
        self.assertEqual(status, 1)
        prompt = json.loads(out)["sets"][0]["prompts"][0]
        self.assertEqual((prompt["code"], prompt["source"], prompt["grade"]), ("fever", "nba-2015", "published"))


if __name__ == "__main__":
    unittest.main()
