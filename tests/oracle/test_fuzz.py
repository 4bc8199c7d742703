#!/usr/bin/python3
"""A short run of the fuzz target on the reader of scans; scripts/fuzz without arguments is the long one."""

import re
import subprocess
import unittest

from command import ROOT

RUNS = 200_000


class Fuzz(unittest.TestCase):
    def test_random_bytes_break_nothing_in_the_reader_of_scans(self):
        done = subprocess.run([ROOT / "scripts/fuzz", "--runs", str(RUNS)], capture_output=True, text=True, timeout=600)
        self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
        count = re.search(r"^(\d+) inputs, nothing found$", done.stdout, re.M)
        self.assertIsNotNone(count, done.stdout)
        self.assertGreaterEqual(int(count.group(1)), RUNS)


if __name__ == "__main__":
    unittest.main()
