#!/usr/bin/python3
"""Writes tests/reference/clock_changes.cpp: what Python's zoneinfo (the tz database) says around clock changes.

Run: clock_changes.py > tests/reference/clock_changes.cpp. Years that are over are used, so that a later release of the
tz database does not move them. test_clock.py fails when the committed file is not what this prints.
"""

from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

# One hour, half an hour, odd offsets, four changes in two years with a second one in a month, a day that was skipped.
ZONES = (
    ("Europe/Paris", 2023, 2023),
    ("America/New_York", 2023, 2023),
    ("America/St_Johns", 2023, 2023),
    ("Australia/Lord_Howe", 2023, 2023),
    ("Pacific/Chatham", 2023, 2023),
    ("Africa/Casablanca", 2022, 2023),
    ("Pacific/Apia", 2011, 2011),
    ("Asia/Kathmandu", 2023, 2023),
)


def offset_min(zone, utc):
    return int(datetime.fromtimestamp(utc, zone).utcoffset().total_seconds()) // 60


def changes(zone, first_year, last_year):
    """(first offset in minutes, [(moment, offset in minutes), ...])"""
    start = int(datetime(first_year, 1, 1, tzinfo=timezone.utc).timestamp())
    end = int(datetime(last_year + 1, 1, 1, tzinfo=timezone.utc).timestamp())
    found = []
    before = offset_min(zone, start)
    first = before
    for hour in range(start, end, 3600):
        after = offset_min(zone, hour + 3600)
        if after == before:
            continue
        low, high = hour, hour + 3600  # the offset is `before` at low and `after` at high
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if offset_min(zone, middle) == before else (low, middle)
        found.append((high, after))
        before = after
    return first, found


def readings(zone, local):
    """The moments at which the wall clock shows a local time: none, one or two."""
    moments = set()
    for fold in (0, 1):
        moment = local.replace(tzinfo=zone, fold=fold).astimezone(timezone.utc)
        if moment.astimezone(zone).replace(tzinfo=None, fold=0) == local:
            moments.add(int(moment.timestamp()))
    return sorted(moments)


def cases():
    for number, (name, first_year, last_year) in enumerate(ZONES):
        zone = ZoneInfo(name)
        first, found = changes(zone, first_year, last_year)
        assert len(found) <= 4
        moments, locals_ = [], []
        middles = [moment for moment, _ in found] or [int(datetime(first_year, 6, 1, tzinfo=timezone.utc).timestamp())]
        before = first
        for index, middle in enumerate(middles):
            after = found[index][1] if found else first
            moments += [middle + seconds for seconds in (-86400, -3601, -1, 0, 1, 1799, 3600, 90061)]
            # Local times at the edges of what the change jumps over or repeats, by either offset.
            edges = [datetime.fromtimestamp(middle, timezone.utc).replace(tzinfo=None) + timedelta(minutes=offset)
                     for offset in (before, after)]
            for edge in edges:
                locals_ += [edge + timedelta(seconds=seconds) for seconds in (-3600, -1800, -60, -1, 0, 1, 60, 1800, 3600)]
            before = after
        yield number, first, found, [
            (moment, datetime.fromtimestamp(moment, zone).isoformat()) for moment in moments
        ], [(local.isoformat(), readings(zone, local)) for local in sorted(set(locals_))]


def text():
    lines = [
        "// Made by tests/oracle/clock_changes.py; change that, not this.",
        "// Source: the tz database, through Python's zoneinfo: around changes of one hour, of half an hour and of",
        "// a whole day, west and east, and in a place that has none.",
        "",
        '#include "tests/reference/clock_table.hpp"',
        "",
        "namespace hangtime::reference {",
        "",
        "const std::vector<ClockCase>& clock_cases() {",
        "    static const std::vector<ClockCase> cases = {",
    ]
    for number, first, found, moments, locals_ in cases():
        lines.append(f"        {{{number}, {first},")
        lines.append("         {" + ", ".join(f"{{{moment}, {offset}}}" for moment, offset in found) + "},")
        lines.append("         {")
        lines += [f'             {{{moment}, "{shown}"}},' for moment, shown in moments]
        lines.append("         },")
        lines.append("         {")
        lines += [f'             {{"{local}", {{{", ".join(map(str, at))}}}}},' for local, at in locals_]
        lines.append("         }},")
    lines += ["    };", "    return cases;", "}", "", "}  // namespace hangtime::reference"]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(text(), end="")
