#!/usr/bin/python3
"""The committed table of clock changes is what zoneinfo says here and now."""

import unittest
from pathlib import Path

import clock_changes

TABLE = Path(__file__).resolve().parents[1] / "reference/clock_changes.cpp"


class ClockChanges(unittest.TestCase):
    def test_the_committed_table_is_what_zoneinfo_says(self):
        self.assertEqual(TABLE.read_text(encoding="utf-8"), clock_changes.text())

    def test_the_table_has_jumps_and_repeats(self):
        counts = {0: 0, 1: 0, 2: 0}
        for *_, readings in clock_changes.cases():
            for _, moments in readings:
                counts[len(moments)] += 1
        self.assertGreater(min(counts.values()), 30)


if __name__ == "__main__":
    unittest.main()
