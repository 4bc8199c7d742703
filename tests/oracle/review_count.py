"""Counts what a review counts, from the records of logs alone: written from the words of the protocol and of the log's
schema, not from the program. Not a test itself.

Holds for logs with one protocol from beginning to end and units that were opened from their beginning, as
tests/sessions writes them and as rehearsals end in; corrections and withdrawals are taken into account.
"""

import json
from collections import defaultdict
from datetime import datetime, timezone
from fractions import Fraction
from math import floor

EDGES = {
    "until_hung": [10, 20, 30, 40, 50, 60, 120],
    "until_in": [60, 90, 120, 150, 180, 210, 240],
    "early_after_due": [0, 5, 10, 15, 20, 30, 60],
    "pause": [2, 5, 10, 20, 30, 60, 120],
    "until_gone": [10, 20, 30, 60, 120, 240, 360],
}
MEASURES = ("hung_in_time", "finished_in_time", "early_on_time", "checks_done", "run_unpaused", "not_wasted")


def utc(text):
    form = "%Y-%m-%dT%H:%M:%SZ" if text.count(":") == 2 else "%Y-%m-%dT%H:%MZ"
    return int(datetime.strptime(text, form).replace(tzinfo=timezone.utc).timestamp())


def records_in_force(records):
    """Without those that were replaced or taken back, in the order in which they happened."""
    gone, replaced = set(), set()
    for r in reversed(records):
        n = r["n"]
        if n in gone and n not in replaced:
            continue                        # taken back: what it had taken back stands again
        for other in r.get("replaces", ()):
            gone.add(other)
            replaced.add(other)
        if r["what"] == "withdrawn" and n not in replaced:
            gone.update(r["of"])
    first = ("opened", "joined", "linked")
    return sorted((r for r in records if r["n"] not in gone),
                  key=lambda r: (r["what"] not in first, r["at_s"] if r["what"] not in first else 0, r["n"]))


class Unit:
    def __init__(self, issued, can_report):
        self.issued, self.component = issued["at_s"], issued["component"]
        self.expires = utc(issued["expires_at"]) if "expires_at" in issued else None
        self.thawed = utc(issued["thawed_at"]) if "thawed_at" in issued else None
        self.left = self.spiked = self.started = self.ended = self.until = None
        self.stopped = False
        self.can_report = can_report
        self.pauses = []                    # [from, to, reason]
        self.checks = []                    # (kind, index, at)
        self.rates = []                     # (from, mL/h), 0 while it stands still
        self.saline_ml = 0                  # goes in before the component
        self.disposal = None                # (how, to, reason, at)

    def take(self, r):
        what, at = r["what"], r["at_s"]
        runs = self.started is not None and self.ended is None
        standing = bool(self.pauses) and self.pauses[-1][1] is None
        if what == "storage_noted" and r["change"] != "entered" and self.left is None:
            self.left = at
        elif what == "spiked":
            self.spiked = at
        elif what == "primed":
            self.saline_ml = Fraction(str(r["holds_ml"])) if r["with"] == "saline" else 0
        elif what == "started":
            self.started = at
            self.rates.append((at, r["rate_ml_per_h"]))
        elif what == "rate_set":
            self.rates.append((at, r["rate_ml_per_h"]))
        elif what in ("paused", "reaction_suspected") and runs and not standing:
            self.pauses.append([at, None, r.get("reason", "symptoms")])
            self.rates.append((at, 0))
        elif what in ("resumed", "restarted") and standing:
            self.pauses[-1][1] = at
            self.rates.append((at, r.get("rate_ml_per_h") or next(x for _, x in reversed(self.rates) if x)))
        elif what in ("all_in", "stopped") or (what == "consent_withdrawn" and runs):
            self.ended, self.stopped = at, what != "all_in"
            if standing:
                self.pauses[-1][1] = at
        elif what == "observed" and not r.get("extra") and r["check"] != "baseline":
            self.checks.append((r["check"], r.get("index", 0), at))
        elif what in ("returned", "discarded", "bag_kept"):
            self.disposal = (what, r.get("to"), r.get("reason"), at)


def first_component(protocol, unit):
    """When component reaches the vein, where the protocol counts the first minutes from there; else the start."""
    if protocol["slow_stage"]["counts_from"] != "vein" or not unit.saline_ml:
        return unit.started
    left = unit.saline_ml * 3600
    for (at, rate), (until, _) in zip(unit.rates, [*unit.rates[1:], (unit.ended, 0)]):
        if rate and left < rate * (until - at):
            return at + floor(left / Fraction(str(rate))) + 1
        left -= Fraction(str(rate)) * (until - at)
    return unit.ended                       # never


def units_of(records):
    """Every unit that was issued, with the moment at which it was over for the session."""
    unit, units, can_report = None, [], True
    for r in records_in_force(records):
        if r["what"] == "recipient_told":
            can_report = r["recipient"].get("can_report") != "no"
        if r["what"] == "requested" and unit and unit.disposal:
            unit.until = r["at_s"]
            unit = None
        if r["what"] == "issued":
            unit = Unit(r, can_report)
            units.append(unit)
        elif unit:
            unit.take(r)
    if unit:
        unit.until = utc(records[-1]["noted"])
    return units


def latest(protocol, unit, kind):
    """The earliest of the limits of a kind, as a moment."""
    since = {
        "issued": unit.issued,
        "left_storage": unit.left if unit.left is not None else unit.issued,
        "thawed": unit.thawed,
        "spiked": unit.spiked if unit.spiked is not None else unit.started,
        "started": unit.started,
    }
    ends = [since[x["from"]] + 60 * x["within_min"] for x in protocol["components"][unit.component]["limits"]
            if x["kind"] == kind and since[x["from"]] is not None]
    if kind == "finish" and protocol["expiry"]["rule"] == "finish_before" and unit.expires is not None:
        ends.append(unit.expires)
    return min(ends, default=None)


def checks_of(protocol, unit):
    """(kind, due, first that counted or None, missed) of each check that fell due between start and end, or after it."""
    if unit.started is None or unit.ended is None:
        return []
    rules, start, end = protocol["checks"], unit.started, unit.ended
    grace = 60 * rules["grace"]["late_after_min"]

    def early_by(span):                     # how long before it is due a check counts
        return grace if 0 < grace < span // 2 else span // 2

    due = []                                # kind, index, due, counts from
    if rules["at_start"]["due"]:
        due.append(("start", 0, start, start))
    first = first_component(protocol, unit)
    for i, early in enumerate(rules["early"]):
        at = first + 60 * early["after_min"]
        if at < end:
            due.append(("early", i, at, first + 60 * early["counts"]["from_min"]))
    every = rules.get("interval_cannot_report") if not unit.can_report else None
    every = 60 * (every or rules.get("interval") or {"every_min": 0})["every_min"]
    number, at = 0, start + every
    while every and at < end and end - at >= 60 * rules["merge_into_end"]["closer_than_min"]:
        if all(at != other[2] for other in due):
            due.append(("interval", number, at, at - early_by(every)))
        number, at = number + 1, at + every
    if rules["at_end"]["due"]:
        due.append(("end", 0, end, end))
    for i, after in enumerate(rules["after"]):
        span = 60 * after["after_end_min"]
        due.append(("after", i, end + span, end + span - early_by(span)))
    due.sort(key=lambda c: c[2])
    out = []
    for place, (kind, index, at, from_) in enumerate(due):
        made = [t for k, i, t in unit.checks if (k, i) == (kind, index) and from_ <= t <= unit.until]
        following = due[place + 1][2] if place + 1 < len(due) else None
        missed = not made and following is not None and following <= unit.until
        out.append((kind, at, min(made, default=None), missed))
    return out


def new_group():
    return {"units": 0, "returned": 0, "discarded": 0,
            "measures": {m: [0, 0] for m in MEASURES},
            "minutes": {s: [0] * 9 for s in EDGES},
            "pauses": defaultdict(lambda: [0, 0]), "gone": defaultdict(lambda: [0, 0])}


class Count:
    def __init__(self):
        self.sessions = 0
        self.groups = defaultdict(new_group)

    def add(self, text):
        records = [json.loads(line) for line in text.splitlines()]
        for r in records:
            r["at_s"] = utc(r["at"]) + r.get("second", 0)
        self.sessions += 1
        for unit in units_of(records):
            self.unit(records[0]["protocol"], unit)

    def unit(self, protocol, unit):
        g = self.groups[protocol["id"], unit.component]
        g["units"] += 1

        def tally(measure, yes):
            g["measures"][measure][0] += bool(yes)
            g["measures"][measure][1] += 1

        def spread(name, seconds):
            place = 8 if seconds is None else sum(seconds >= 60 * e for e in EDGES[name])
            g["minutes"][name][place] += 1

        hang, finish = latest(protocol, unit, "hang"), latest(protocol, unit, "finish")
        all_in = unit.ended if unit.ended is not None and not unit.stopped else None
        if unit.spiked is not None and hang is not None:
            tally("hung_in_time", unit.spiked <= hang)
        if all_in is not None and finish is not None:
            tally("finished_in_time", all_in <= finish)
        spread("until_hung", None if unit.spiked is None else unit.spiked - unit.issued)
        spread("until_in", None if all_in is None else all_in - unit.issued)
        grace = 60 * protocol["checks"]["grace"]["late_after_min"]
        for kind, due, made, missed in checks_of(protocol, unit):
            if made is None and not missed:
                continue
            tally("checks_done", made is not None)
            if kind == "early":
                tally("early_on_time", made is not None and made <= due + grace)
                spread("early_after_due", None if made is None else made - due)
        if unit.started is not None:
            tally("run_unpaused", not unit.pauses)
        for begun, over, reason in unit.pauses:
            seconds = (unit.until if over is None else over) - begun
            spread("pause", seconds)
            g["pauses"][reason][0] += 1
            g["pauses"][reason][1] += seconds
        if unit.ended is not None or unit.disposal:
            in_stock = unit.disposal and unit.disposal[:2] == ("returned", "stock")
            tally("not_wasted", in_stock or all_in is not None)
        if unit.disposal and unit.disposal[0] != "bag_kept":
            how, _, reason, at = unit.disposal
            g[how] += 1
            g["gone"][reason][0] += 1
            g["gone"][reason][1] += at - unit.issued
            spread("until_gone", at - unit.issued)
