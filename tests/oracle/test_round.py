#!/usr/bin/python3
"""Rounds against an independent model in MiniZinc, solved by Gecode (both from Debian's package minizinc): 200 random
rounds of up to 5 transfusions and more, the same optimum or the same "there is none", every time. A round that Gecode
does not decide in time is no comparison, so a few more are drawn; how many were not decided is bounded.
"""

import json
import os
import subprocess
import unittest
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import round_model

ROOT = Path(os.environ.get("HANGTIME_ROOT", Path(__file__).resolve().parents[2]))
ROUNDS = os.environ.get("HANGTIME_ROUNDS", str(ROOT / "build/native/rounds"))
COUNT = 200
SPARE = 12
MOST = 5
SECONDS = 30  # for one round


class Rounds(unittest.TestCase):
    def test_each_optimum_is_that_of_an_independent_model(self):
        done = subprocess.run([ROUNDS, "cases", "1", str(COUNT + SPARE), str(MOST)], capture_output=True, text=True, check=True)
        cases = [json.loads(line) for line in done.stdout.splitlines()]
        self.assertEqual(len(cases), COUNT + SPARE)
        with ThreadPoolExecutor(os.cpu_count()) as pool:
            answers = list(pool.map(lambda case: round_model.solve(case, SECONDS), cases))
        seen = {"optimal": 0, "infeasible": 0}
        one_person = 0  # rounds with two units for one person, in either order, that have an answer
        for number, (case, (verdict, cost, _)) in enumerate(zip(cases, answers), 1):
            ours = case["answer"]
            self.assertNotEqual(ours["verdict"], "searching")
            if verdict == "unknown":
                continue
            with self.subTest(number):
                self.assertEqual(ours["verdict"], verdict)
                if verdict == "optimal":
                    self.assertEqual((ours["finish"], ours["changes"]), cost)
                seen[verdict] = seen.get(verdict, 0) + 1
                one_person += bool(case["apart"]) and verdict == "optimal"
        self.assertGreaterEqual(sum(seen.values()), COUNT)
        # Both happen often enough for this to mean something.
        self.assertGreater(seen["optimal"], COUNT // 4)
        self.assertGreater(seen["infeasible"], COUNT // 20)
        self.assertGreater(one_person, COUNT // 20)


if __name__ == "__main__":
    unittest.main()
