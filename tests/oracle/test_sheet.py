#!/usr/bin/python3
"""The sheet of every demo transfusion: JSON by python3-jsonschema, CSV by Python's csv module (RFC 4180), calendars by
python3-icalendar (RFC 5545), HTML by Python's html.parser; and all forms say the same times."""

import csv
import io
import json
import re
import unittest
from datetime import datetime, timedelta, timezone
from html.parser import HTMLParser

import icalendar
from jsonschema import Draft202012Validator

from command import DEMOS, PAGE, ROOT, hangtime

SCHEMA = json.loads((ROOT / "core/cli/sheet.schema.json").read_text(encoding="utf-8"))
UNITS_PER_ML = 2_160_000


def report(path):
    return json.loads(hangtime("sheet", path, "--as", "json")[1])


def times(node):
    """Every time object in a report."""
    if isinstance(node, dict):
        if set(node) == {"at", "from_start_s", "clock"}:
            yield node
        for value in node.values():
            yield from times(value)
    elif isinstance(node, list):
        for value in node:
            yield from times(value)


def values(node, keys):
    if isinstance(node, dict):
        if set(node) == keys:
            yield node
        for value in node.values():
            yield from values(value, keys)
    elif isinstance(node, list):
        for value in node:
            yield from values(value, keys)


def moments(made):
    """(kind, code, at) of all that falls on a time."""
    for window in made["windows"]:
        if window["latest"]:
            yield "limit", window["kind"], window["latest"]
    if made["plan"]:
        for stage in made["plan"]["stages"]:
            yield "stage", stage["kind"], stage["from"]
        for check in made["plan"]["checks"]:
            yield "check", check["kind"], check["due"]


class Json(unittest.TestCase):
    def test_the_schema_is_a_schema_and_strict(self):
        Draft202012Validator.check_schema(SCHEMA)
        made = report(DEMOS[0])
        check = Draft202012Validator(SCHEMA)
        self.assertTrue(check.is_valid(made))
        for change in ({"name": "somebody"}, {"now": None}, {"hangtime_sheet": 2}):
            self.assertFalse(check.is_valid({**made, **change}), change)
        self.assertFalse(check.is_valid({key: value for key, value in made.items() if key != "warnings"}))

    def test_every_demo_is_valid(self):
        check = Draft202012Validator(SCHEMA)
        for path in DEMOS:
            with self.subTest(path.name):
                problems = [f"{list(e.absolute_path)}: {e.message}" for e in check.iter_errors(report(path))]
                self.assertEqual(problems, [])

    def test_times_agree_with_the_seconds_from_the_start(self):
        for path in DEMOS:
            made = report(path)
            if not made.get("plan"):
                continue
            start = datetime.fromisoformat(made["plan"]["start"]["at"])
            with self.subTest(path.name):
                found = list(times(made))
                self.assertGreater(len(found), 10)
                for time in found:
                    at = datetime.fromisoformat(time["at"])
                    self.assertEqual((at - start).total_seconds(), time["from_start_s"])
                    clock = at.strftime("%H:%M:%S") if at.second else at.strftime("%H:%M")
                    self.assertEqual(time["clock"].split(" ")[0], clock)

    def test_decimals_agree_with_the_exact_units(self):
        for path in DEMOS:
            made = report(path)
            with self.subTest(path.name):
                for volume in values(made, {"ml", "units"}):
                    self.assertAlmostEqual(volume["ml"], volume["units"] / UNITS_PER_ML, delta=1e-6)
                for rate in values(made, {"ml_per_h", "units_per_s"}):
                    self.assertAlmostEqual(rate["ml_per_h"], rate["units_per_s"] / 600, delta=1e-6)
                for flow in values(made, {"ml_per_h", "num", "den"}):
                    self.assertAlmostEqual(flow["ml_per_h"], flow["num"] / flow["den"] / 600, delta=1e-6)

    def test_stages_add_up_to_what_the_device_moves(self):
        for path in DEMOS:
            plan = report(path).get("plan")
            if plan:
                with self.subTest(path.name):
                    self.assertEqual(sum(stage["volume"]["units"] for stage in plan["stages"]),
                                     plan["volumes"]["pushed"]["units"])
                    self.assertEqual(plan["stages"][-1]["to"], plan["all_in"])

    def test_the_first_worked_result(self):
        made = report(ROOT / "demo-data/transfusions/01-red-cells-adult.json")
        self.assertEqual(made["start_by"]["clock"], "14:10")
        self.assertEqual(made["finish_by"]["clock"], "17:40")
        self.assertEqual([s["rate"]["ml_per_h"] for s in made["plan"]["stages"]], [50, 174])
        self.assertEqual(made["plan"]["all_in"]["clock"], "15:51:40")
        self.assertEqual(made["plan"]["rates"]["set_sum"]["text"],
                         "(316 mL - 12.5 mL) in 1 h 45 min = 173.43 mL/h, set 174 mL/h")


class Csv(unittest.TestCase):
    def test_rfc_4180_and_the_same_times_as_json(self):
        for path in DEMOS:
            made = report(path)
            status, text, err = hangtime("sheet", path, "--as", "csv")
            with self.subTest(path.name):
                self.assertEqual(err, "")
                self.assertTrue(text.endswith("\r\n"))
                self.assertNotIn("\n", text.replace("\r\n", ""))
                rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
                self.assertEqual({len(row) for row in rows}, {10})
                if made["result"] != "planned":
                    continue
                table = [dict(zip(rows[0], row)) for row in rows[1:]]
                said = [(r["kind"], r["code"], r["at"], r["seconds_from_start"]) for r in table]
                wanted = [(kind, code, at["clock"], str(at["from_start_s"])) for kind, code, at in moments(made)]
                self.assertEqual(said, wanted)
                self.assertNotRegex(text, r"20\d\d-\d\d-\d\d")


class Calendar(unittest.TestCase):
    def test_read_by_icalendar_and_the_same_times_as_json(self):
        for path in DEMOS:
            made = report(path)
            _, text, err = hangtime("sheet", path, "--as", "ics")
            with self.subTest(path.name):
                self.assertEqual(err, "")
                calendar = icalendar.Calendar.from_ical(text)
                self.assertEqual(calendar.errors, [])
                events = list(calendar.walk("VEVENT"))
                for event in events:
                    self.assertEqual(event.errors, [])
                if made["result"] != "planned":
                    self.assertEqual(len(calendar.walk("VJOURNAL")), 1)
                    continue
                said = sorted(event.decoded("DTSTART") for event in events)
                # Of what does not fit and has not begun there are limits only, and each says so.
                begun = json.loads(path.read_text())["times"].get("start_is") == "happened"
                none = made["plan"]["verdict"]["code"] == "does_not_fit" and not begun
                if none:
                    self.assertTrue(all("Does not fit" in str(event["SUMMARY"]) for event in events))
                wanted = sorted(datetime.fromisoformat(at["at"]) for kind, _, at in moments(made)
                                if kind not in ("stage", "check" if none else "stage"))
                self.assertEqual(said, wanted)
                self.assertTrue(all(at.utcoffset() == timedelta(0) for at in said))

    def test_rfc_5545_lines_and_required_properties(self):
        for path in DEMOS:
            _, text, _ = hangtime("sheet", path, "--as", "ics")
            with self.subTest(path.name):
                self.assertNotIn("\n", text.replace("\r\n", ""))                              # 3.1: CRLF
                self.assertLessEqual(max(len(line.encode()) for line in text.split("\r\n")), 75)  # 3.1: octets
                calendar = icalendar.Calendar.from_ical(text)
                self.assertEqual(calendar["VERSION"], "2.0")                                   # 3.7.4
                self.assertIn("PRODID", calendar)                                              # 3.7.3
                uids = [str(event["UID"]) for event in calendar.walk("VEVENT")]
                self.assertEqual(len(uids), len(set(uids)))                                    # 3.8.4.7
                for event in calendar.walk("VEVENT"):
                    self.assertIn("DTSTAMP", event)                                            # 3.8.7.2
                    self.assertRegex(str(event["UID"]), r"^[0-9a-f]{16}@hangtime\.invalid$")
                self.assertEqual(calendar.walk("VALARM"), [])                                  # it is not an alarm

    def test_dtstamp_is_the_moment_that_the_sheet_is_made_for(self):
        path = ROOT / "demo-data/transfusions/01-red-cells-adult.json"
        _, text, _ = hangtime("sheet", path, "--as", "ics", "--now", "2026-03-14T13:46")
        for event in icalendar.Calendar.from_ical(text).walk("VEVENT"):
            self.assertEqual(event.decoded("DTSTAMP"), datetime(2026, 3, 14, 12, 46, tzinfo=timezone.utc))


class Outline(HTMLParser):
    VOID = {"meta", "br", "link", "img", "hr"}

    def __init__(self):
        super().__init__()
        self.open, self.problems, self.count, self.text = [], [], {}, []

    def handle_starttag(self, tag, attrs):
        self.count[tag] = self.count.get(tag, 0) + 1
        names = {name for name, _ in attrs}
        if "style" in names or any(name.startswith("on") for name in names):
            self.problems.append(f"<{tag} {sorted(names)}>")
        if tag == "th" and "scope" not in names:
            self.problems.append("th without scope")
        if tag != "span":
            self.text.append(" ")
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.problems.append(f"</{tag}> closes nothing")

    def handle_data(self, data):
        if not {"style", "head"} & set(self.open):
            self.text.append(data)


class Html(unittest.TestCase):
    def test_well_formed_without_scripts_styles_on_elements_or_dates(self):
        for path in DEMOS:
            _, text, _ = hangtime("sheet", path, "--as", "html")
            outline = Outline()
            outline.feed(text)
            outline.close()
            said = "".join(outline.text)
            with self.subTest(path.name):
                self.assertEqual(outline.problems, [])
                self.assertEqual(outline.open, [])
                self.assertEqual(outline.count["h1"], 1)
                self.assertNotIn("script", outline.count)
                # The only date is the rules' own: of when they are.
                short, dated = re.subn(r"(Rules .*), revised 20\d\d-\d\d", r"\1", said.split("Sources")[0])
                self.assertEqual(dated, path.name != "10-not-covered.json")    # that one answers by no rules
                self.assertNotRegex(short, r"20\d\d-\d\d|\d+ (Jan|Feb|Mar|Apr|May|Oct)")
                self.assertIn("not a medical device", said)

    def test_the_page_carries_the_same_style(self):
        """It stands once, in core/sheet/style.cpp: the command writes it into a sheet, scripts/pack into the page."""
        style = re.compile(r"<style>(.*?)</style>", re.S)
        sheet = style.search(hangtime("sheet", DEMOS[0], "--as", "html")[1]).group(1)
        page = style.search(PAGE.read_text(encoding="utf-8")).group(1)
        rules = [line for line in sheet.strip().splitlines() if not line.startswith("body {")]
        self.assertGreater(len(rules), 30)
        self.assertIn("\n".join(rules), page)

    def test_it_says_what_the_text_says(self):
        for path in DEMOS:
            outline = Outline()
            outline.feed(hangtime("sheet", path, "--as", "html")[1])
            text = hangtime("sheet", path)[1]
            words = set(re.findall(r"[\w.:+/%-]+", re.sub(r"[|_=-]{2,}|\+-+\+", " ", text)))
            said = set(re.findall(r"[\w.:+/%-]+", "".join(outline.text)))
            with self.subTest(path.name):
                self.assertEqual(words - said - {"-", "+", "T"}, set())


if __name__ == "__main__":
    unittest.main()
