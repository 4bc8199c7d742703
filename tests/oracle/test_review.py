#!/usr/bin/python3
"""The review against an independent count (review_count.py) of the same logs, and what a floor leaves to be had.

The logs are those of tests/sessions. HANGTIME_REVIEW_SESSIONS says how many; scripts/review runs 10,000.
"""

import csv
import io
import json
import os
import subprocess
import tempfile
import unittest
from fractions import Fraction
from pathlib import Path

from jsonschema import Draft202012Validator

from command import PROTOCOLS, ROOT, hangtime
from review_count import EDGES, Count

SCHEMA = Draft202012Validator(json.loads((ROOT / "core/rehearse/review.schema.json").read_text(encoding="utf-8")))
SESSIONS = int(os.environ.get("HANGTIME_REVIEW_SESSIONS", "400"))
PROGRAM = Path(os.environ.get("HANGTIME_SESSIONS", ROOT / "build/native/sessions"))
UNIT_MEASURES = ("hung_in_time", "finished_in_time", "early_on_time", "run_unpaused", "not_wasted")


class Span:
    """Which of the nine bins one entry of the JSON stands for, by the edges of its distribution."""

    def __init__(self, name, entry):
        edges = EDGES[name]
        if "only" in entry:
            self.bins = [8]
        else:
            first = edges.index(entry["from"]) + 1 if "from" in entry else 0
            last = edges.index(entry["to"]) if "to" in entry else 7
            self.bins = list(range(first, last + 1)) + ([8] if "or" in entry else [])
        self.times = entry["times"]


class Knowns:
    """What can be worked out exactly from some sums of unknowns: a quantity that lies in their span."""

    def __init__(self):
        self.rows = []                      # reduced, each with the place of its leading unknown

    def reduced(self, row):
        row = {k: Fraction(v) for k, v in row.items() if v}
        for lead, known in self.rows:
            if lead in row:
                factor = row[lead]
                for k, v in known.items():
                    row[k] = row.get(k, Fraction(0)) - factor * v
                row = {k: v for k, v in row.items() if v}
        return row

    def add(self, row):
        row = self.reduced(row)
        if not row:
            return
        lead = next(iter(row))
        row = {k: v / row[lead] for k, v in row.items()}
        for i, (other, known) in enumerate(self.rows):
            if lead in known:
                factor = known[lead]
                merged = {k: known.get(k, Fraction(0)) - factor * row.get(k, Fraction(0)) for k in {*known, *row}}
                self.rows[i] = (other, {k: v for k, v in merged.items() if v})
        self.rows.append((lead, row))

    def tells(self, row):
        return not self.reduced(row)


def minus(a, b):
    return {k: a.get(k, 0) - b.get(k, 0) for k in {*a, *b}}


class ReviewCount(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        protocols = sorted(PROTOCOLS, key=lambda p: p.stem != "general-ward")
        subprocess.run([PROGRAM, str(SESSIONS), "7", cls.folder.name, *map(str, protocols)], check=True, timeout=600)
        cls.files = sorted(Path(cls.folder.name).glob("*.log"))
        cls.count = Count()
        for file in cls.files:
            cls.count.add(file.read_text(encoding="utf-8"))

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def review(self, floor, form="json", files=None):
        names = [file.name for file in files or self.files]
        status, out, err = hangtime("review", *names, "--floor", floor, "--as", form, cwd=self.folder.name)
        self.assertEqual((status, err), (0, ""))
        if form != "json":
            return out
        got = json.loads(out)
        self.assertEqual([e.message for e in SCHEMA.iter_errors(got)], [])
        return got

    def test_every_figure_is_that_of_an_independent_count(self):
        got = self.review(1)
        self.assertEqual(got["sessions_at_least"], len(self.files))
        self.assertEqual({(g["protocol"], g["component"]) for g in got["groups"]}, set(self.count.groups))
        figures = 0
        for g in got["groups"]:
            want = self.count.groups[g["protocol"], g["component"]]
            with self.subTest(protocol=g["protocol"], component=g["component"]):
                for key in ("units", "returned", "discarded"):
                    self.assertEqual(g[key], want[key], key)
                for name, (yes, of) in want["measures"].items():
                    self.assertEqual((g["measures"][name]["told"], g["measures"][name]["yes"], g["measures"][name]["of"]),
                                     ("parts", yes, of), name)
                for name, bins in want["minutes"].items():
                    entries = [Span(name, b) for b in g["minutes"][name]]
                    self.assertTrue(all(len(e.bins) == 1 for e in entries))
                    self.assertEqual({e.bins[0]: e.times for e in entries if e.times},
                                     {i: n for i, n in enumerate(bins) if n}, name)
                for name in ("pauses", "gone"):
                    self.assertEqual({k: [r["times"], r["seconds"]] for k, r in g[name]["reasons"].items()}, dict(want[name]), name)
                    self.assertEqual([g[name]["times"], g[name]["seconds"]],
                                     [sum(r[i] for r in want[name].values()) for i in (0, 1)], name)
                figures += 3 + 2 * len(want["measures"]) + 9 * len(EDGES) + 2 * sum(len(want[n]) for n in ("pauses", "gone"))
        # What was looked for is there: something of everything.
        total = [sum(g["measures"][m][i] for g in self.count.groups.values()) for m in UNIT_MEASURES for i in (0, 1)]
        self.assertTrue(all(0 < yes < of for yes, of in zip(total[::2], total[1::2])), total)
        print(f"review: {len(self.files)} sessions, {figures} figures, all the same", flush=True)

    def test_the_table_for_a_spreadsheet_holds_the_same(self):
        rows = list(csv.DictReader(io.StringIO(self.review(1, "csv"), newline="")))
        table = {(r["protocol"], r["component"], r["figure"], r["part"]): r["count"] for r in rows}
        self.assertEqual(len(table), len(rows))
        for (protocol, component), want in self.count.groups.items():
            self.assertEqual(table[protocol, component, "units", "all"], str(want["units"]))
            for name, (yes, of) in want["measures"].items():
                self.assertEqual(table[protocol, component, name, "yes"], str(yes))
                self.assertEqual(table[protocol, component, name, "of"], str(of))

    def check_floor(self, floor, files):
        """Nothing that is told, and nothing that follows exactly from it, is a count of 1 to below the floor."""
        count = Count()
        for file in files:
            count.add(file.read_text(encoding="utf-8"))
        got = self.review(floor, files=files)
        self.assertEqual(got["sessions_at_least"] % floor, 0)
        large = {key for key, g in count.groups.items() if g["units"] >= floor}
        self.assertEqual({(g["protocol"], g["component"]) for g in got["groups"]}, large)
        self.assertEqual(got["groups_left_out"], large != set(count.groups))
        knowns, hidden, told = Knowns(), [], 0
        values = {}
        for g in got["groups"]:
            key = g["protocol"], g["component"]
            want = count.groups[key]
            var = lambda *name: (key, *name)
            values |= {var("units"): want["units"], var("returned"): want["returned"], var("discarded"): want["discarded"]}
            for m, (yes, of) in want["measures"].items():
                values |= {var(m, "yes"): yes, var(m, "no"): of - yes}
                if m in UNIT_MEASURES:
                    values[var(m, "rest")] = want["units"] - of
            for s, bins in want["minutes"].items():
                values |= {var(s, i): n for i, n in enumerate(bins)}
            for what in ("pauses", "gone"):
                values |= {var(what, reason): r[0] for reason, r in want[what].items()}
            # What anybody knows to be so.
            sums = [(var("units"), [var(m, p) for p in ("yes", "no", "rest")]) for m in UNIT_MEASURES]
            sums += [(var("units"), [var(s, i) for i in range(9)]) for s in ("until_hung", "until_in")]
            for whole, parts in sums:
                knowns.add(minus({whole: 1}, dict.fromkeys(parts, 1)))
            early = dict.fromkeys([var("early_after_due", i) for i in range(9)], 1)
            knowns.add(minus(early, {var("early_on_time", "yes"): 1, var("early_on_time", "no"): 1}))
            gone = {var("gone", reason): 1 for reason in want["gone"]}
            knowns.add(minus(gone, {var("returned"): 1, var("discarded"): 1}))
            pauses = {var("pauses", reason): 1 for reason in want["pauses"]}
            knowns.add(minus(pauses, {var("pause", i): 1 for i in range(8)}))
            knowns.add(minus(gone, {var("until_gone", i): 1 for i in range(8)}))
            # What must not be had: any unknown, and the difference of two where one is a part of the other.
            of = {m: {var(m, "yes"): 1, var(m, "no"): 1} for m in want["measures"]}
            differences = [(of["hung_in_time"], of["run_unpaused"]), (of["run_unpaused"], of["finished_in_time"]),
                           (of["run_unpaused"], of["early_on_time"]), (of["not_wasted"], of["finished_in_time"]),
                           ({var("not_wasted", "yes"): 1}, of["finished_in_time"]), (of["not_wasted"], gone),
                           (pauses, {var("run_unpaused", "no"): 1}), ({var("units"): 1}, gone),
                           (of["checks_done"], of["early_on_time"]),
                           ({var("checks_done", "no"): 1}, {var("early_after_due", 8): 1})]
            for s, m in (("until_hung", "hung_in_time"), ("until_in", "finished_in_time"), ("early_after_due", "early_on_time")):
                below = {}
                for i in range(8):
                    below = {**below, var(s, i): 1}
                    differences.append((below, {var(m, "yes"): 1}))
            quantities = [{k: 1} for k in values if k[0] == key] + [minus(a, b) for a, b in differences]
            hidden += [(q, sum(values[k] * v for k, v in q.items())) for q in quantities]

            def tell(row, number, what):
                nonlocal told
                told += 1
                self.assertEqual(sum(values[k] * v for k, v in row.items()), number, (key, what))
                self.assertFalse(0 < number < floor, (key, what, number))
                knowns.add(row)
            tell({var("units"): 1}, g["units"], "units")
            for m, t in g["measures"].items():
                yes, no = {var(m, "yes"): 1}, {var(m, "no"): 1}
                if t["told"] in ("parts", "of_all_units"):
                    tell(yes, t["yes"], m)
                if t["told"] == "parts":
                    tell({**yes, **no}, t["of"], m)
                if t["told"] == "all_alike":
                    tell(no if t["always"] else yes, 0, m)
            for s, entries in g["minutes"].items():
                for entry in entries:
                    span = Span(s, entry)
                    tell({var(s, i): 1 for i in span.bins if var(s, i) in values}, span.times, s)
            for how in ("returned", "discarded"):
                if g[how] is not None:
                    tell({var(how): 1}, g[how], how)
            for what, whole in (("pauses", pauses), ("gone", gone)):
                if g[what]["times"] is None:
                    continue
                tell(whole, g[what]["times"], what)
                named = [r for r in g[what]["reasons"] if r != "others"]
                for reason in named:
                    tell({var(what, reason): 1}, g[what]["reasons"][reason]["times"], (what, reason))
                if "others" in g[what]["reasons"]:
                    tell({k: 1 for k in whole if k[2] not in named}, g[what]["reasons"]["others"]["times"], (what, "others"))
        # What all come to together is a sum of what stands there already.
        whole = got["all_shown"]
        self.assertEqual(whole["units"], sum(g["units"] for g in got["groups"]))
        for m, t in whole["measures"].items():
            parts = [g["measures"][m] for g in got["groups"] if g["measures"][m]["told"] == "parts"]
            self.assertEqual((t["yes"], t["of"]), (sum(p["yes"] for p in parts), sum(p["of"] for p in parts)) if parts else (None, None))
        for s in EDGES:
            groups = [got["groups"][i]["minutes"][s] for i in whole["summed"][s]]
            self.assertTrue(groups or not any(g["minutes"][s] for g in got["groups"]))
            for entry in whole["minutes"][s]:
                bins = set(Span(s, entry).bins)
                parts = [span for entries in groups for span in (Span(s, e) for e in entries) if bins & set(span.bins)]
                self.assertTrue(all(set(p.bins) <= bins for p in parts), s)
                self.assertTrue(all(groups))
                self.assertEqual(entry["times"], sum(p.times for p in parts))
        for quantity, value in hidden:
            if 0 < value < floor:
                self.assertFalse(knowns.tells(quantity), f"{quantity} is {value}")
        return told

    def test_no_count_below_the_floor_is_told_or_had_by_subtraction(self):
        told = 0
        for files in (self.files[:40], self.files[:120], self.files[100:350], self.files[:2000]):
            for floor in (2, 5, 10):
                told += self.check_floor(floor, files)
        self.assertGreater(told, 500)       # and much is told all the same


if __name__ == "__main__":
    unittest.main()
