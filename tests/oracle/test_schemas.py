#!/usr/bin/python3
"""The JSON Schemas against the demo data and the broken files, by python3-jsonschema (draft 2020-12).

The same broken files go through the readers in tests/core/broken_files_test.cpp; a case says with "schema" whether a
schema can express what is wrong with it.
"""

import copy
import json
import unittest
from pathlib import Path

from jsonschema import Draft202012Validator

ROOT = Path(__file__).resolve().parents[2]
FORMATS = {
    "protocols": ROOT / "core/protocol/protocol.schema.json",
    "transfusions": ROOT / "core/session/transfusion.schema.json",
}


def validator(folder):
    return Draft202012Validator(json.loads(FORMATS[folder].read_text(encoding="utf-8")))


def demo_files(folder):
    return sorted((ROOT / "demo-data" / folder).glob("*.json"))


def objects(node, path=()):
    """Every object in a file, with its path."""
    if isinstance(node, dict):
        yield path, node
        for key, value in node.items():
            yield from objects(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from objects(value, (*path, index))


class Schemas(unittest.TestCase):
    def test_schemas_are_schemas(self):
        for folder, path in FORMATS.items():
            with self.subTest(folder):
                Draft202012Validator.check_schema(json.loads(path.read_text(encoding="utf-8")))

    def test_demo_files_are_valid(self):
        for folder in FORMATS:
            check = validator(folder)
            self.assertTrue(demo_files(folder))
            for path in demo_files(folder):
                with self.subTest(path.name):
                    problems = [f"{list(e.absolute_path)}: {e.message}"
                                for e in check.iter_errors(json.loads(path.read_text(encoding="utf-8")))]
                    self.assertEqual(problems, [])

    def test_broken_files_are_refused_where_a_schema_can_say_so(self):
        for folder in FORMATS:
            check = validator(folder)
            cases = json.loads((ROOT / f"tests/broken/{folder}.json").read_text(encoding="utf-8"))["cases"]
            self.assertGreater(sum(case["schema"] for case in cases), 30)
            for case in cases:
                text = (ROOT / "demo-data" / folder / (case["file"] + ".json")).read_text(encoding="utf-8")
                self.assertIn(case["old"], text, case["name"])
                text = text.replace(case["old"], case["new"], 1)
                with self.subTest(case["name"]):
                    try:
                        tree = json.loads(text)
                    except ValueError:
                        self.assertFalse(case["schema"], "this is not JSON at all")
                        continue
                    # Both ways, so that the "schema" of a case stays true.
                    self.assertEqual(not check.is_valid(tree), case["schema"])

    def test_every_object_refuses_an_unknown_key(self):
        for folder in FORMATS:
            check = validator(folder)
            for path in demo_files(folder):
                tree = json.loads(path.read_text(encoding="utf-8"))
                for where, _ in objects(tree):
                    if where == ("sources",):
                        continue  # its keys are free
                    changed = copy.deepcopy(tree)
                    node = changed
                    for step in where:
                        node = node[step]
                    node["patient_name"] = "x"
                    self.assertFalse(check.is_valid(changed), f"{path.name} {where}")

    def test_codes_in_the_schemas_are_the_codes_of_the_readers(self):
        spelling = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "core/words").glob("*spelling.cpp"))
        component = (ROOT / "core/component.hpp").read_text(encoding="utf-8")
        objects_header = (ROOT / "core/session/objects.hpp").read_text(encoding="utf-8")
        readers = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "core/session").glob("read*.cpp"))
        observe = (ROOT / "core/words/observe_words.cpp").read_text(encoding="utf-8")
        known = spelling + component + objects_header + readers + observe

        def enums(node):
            if isinstance(node, dict):
                yield from node.get("enum", [])
                for value in node.values():
                    yield from enums(value)
            elif isinstance(node, list):
                for value in node:
                    yield from enums(value)

        for path in FORMATS.values():
            for word in set(enums(json.loads(path.read_text(encoding="utf-8")))):
                self.assertIn(f'"{word}"', known, path.name)


if __name__ == "__main__":
    unittest.main()
