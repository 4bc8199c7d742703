#!/usr/bin/python3
"""Logs and their replay against the JSON Schemas, by python3-jsonschema (draft 2020-12), and the sums of a log
against FNV-1a written anew from its description.

The broken records of tests/broken/logs.json go through the reader in tests/core/log_damage_test.cpp.
"""

import json
import unittest

from command import ROOT, hangtime
from jsonschema import Draft202012Validator

LOGS = sorted((ROOT / "demo-data/logs").glob("*.jsonl"))


def schema(path):
    return json.loads((ROOT / path).read_text(encoding="utf-8"))


LOG = schema("core/session/log.schema.json")
REPLAY = schema("core/cli/replay.schema.json")
OTHERS = {s["$id"]: s for s in (schema("core/session/transfusion.schema.json"), schema("core/protocol/protocol.schema.json"),
                                schema("core/report/observations.schema.json"),
                                schema("core/cli/observe.schema.json"))}


def expanded(node, root):
    """The schema with what its references stand for in their place; none of them goes round in a circle."""
    if isinstance(node, list):
        return [expanded(one, root) for one in node]
    if not isinstance(node, dict):
        return node
    if "$ref" in node:
        name, _, path = node["$ref"].partition("#")
        root = OTHERS[name] if name else root
        found = root
        for step in filter(None, path.split("/")):
            found = found[step]
        return expanded(found, root)
    return {key: expanded(value, root) for key, value in node.items() if key not in ("$defs", "$id")}


def records():
    return Draft202012Validator(expanded(LOG, LOG))


def fnv(sum_, text):
    for byte in text.encode():
        sum_ = (sum_ ^ byte) * 1099511628211 % 2 ** 64
    return sum_


class Logs(unittest.TestCase):
    def test_schemas_are_schemas(self):
        for one in (LOG, REPLAY):
            Draft202012Validator.check_schema(one)

    def test_demo_logs_are_valid(self):
        self.assertGreaterEqual(len(LOGS), 4)
        check = records()
        for path in LOGS:
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                problems = [f"{list(e.absolute_path)}: {e.message[:200]}" for e in check.iter_errors(json.loads(line))]
                self.assertEqual(problems, [], f"{path.name} line {number}")

    def test_sums_are_the_chain_that_is_described(self):
        for path in LOGS:
            sum_ = 14695981039346656037
            for line in path.read_text(encoding="utf-8").splitlines():
                stated = json.loads(line)["sum"]
                sum_ = fnv(sum_, line[:line.rindex(', "sum": "')] + "}")
                self.assertEqual(f"{sum_:016x}", stated, path.name)

    def test_broken_records_are_refused_where_a_schema_can_say_so(self):
        check = records()
        cases = json.loads((ROOT / "tests/broken/logs.json").read_text(encoding="utf-8"))["cases"]
        self.assertGreater(sum(case["schema"] for case in cases), 20)
        for case in cases:
            with self.subTest(case["name"]):
                try:
                    tree = json.loads(case["line"])
                except ValueError:
                    self.assertFalse(case["schema"])
                    continue
                self.assertEqual(not check.is_valid(tree), case["schema"])

    def test_replays_are_as_described(self):
        check = Draft202012Validator(expanded(REPLAY, REPLAY))
        for path in LOGS:
            lines = path.read_text(encoding="utf-8").splitlines()
            for moment in {json.loads(line)["noted"] for line in lines}:
                status, out, err = hangtime("replay", path, "--at", moment, "--as", "json")
                self.assertIn(status, (0, 1), err)
                made = json.loads(out)
                problems = [f"{list(e.absolute_path)}: {e.message[:200]}" for e in check.iter_errors(made)]
                self.assertEqual(problems, [], f"{path.name} at {moment}")

    def test_a_damaged_log_says_which_record_is_left_out(self):
        text = LOGS[0].read_text(encoding="utf-8").replace('"rate_ml_per_h": 165', '"rate_ml_per_h": 166', 1)
        status, out, err = hangtime("replay", "-", stdin=text)
        self.assertEqual(status, 1)
        self.assertIn("has another sum than it was written with; this record is left out", err)
        self.assertTrue(out)


if __name__ == "__main__":
    unittest.main()
