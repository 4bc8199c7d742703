#!/usr/bin/python3
"""How long a proven answer takes: our solver and Gecode, on the same frozen rounds, in one run. For scripts/bench.

  rounds.py PROGRAM [full|quick]

Rounds of 4 to 12 transfusions with 1 to 3 nurses; some have no answer, and then that is what is proven. Ours is given
20 million nodes, Gecode (MiniZinc's solve time, flattening left out) the seconds below; what is not proven by then is
said. Gecode is asked only about the first few rounds of each size, and about none larger than where it proved nothing.
"""

import json
import math
import statistics
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "oracle"))
import round_model  # noqa: E402

PROGRAM, HOW = sys.argv[1], (sys.argv[2:] or ["full"])[0]
COUNT, PEERS, SECONDS = (20, 4, 20) if HOW == "full" else (8, 2, 5)


def row(jobs, nurses, ask_peer):
    done = subprocess.run([PROGRAM, "bench", str(jobs), str(nurses), str(COUNT)], capture_output=True, text=True,
                          check=True)
    cases = [json.loads(line) for line in done.stdout.splitlines()]
    ours = [case["answer"] for case in cases]
    ms = sorted(answer["ns"] / 1e6 for answer in ours)
    proven = sum(answer["verdict"] != "searching" for answer in ours)
    none = sum(answer["verdict"] == "infeasible" for answer in ours)
    peer = "not asked"
    decided = 0
    if ask_peer:
        times = []
        for case in cases[:PEERS]:
            verdict, _, seconds = round_model.solve(case, SECONDS)
            if verdict != "unknown":
                times.append(seconds * 1e3)
        decided = len(times)
        peer = f"{decided} of {len(cases[:PEERS])} in {SECONDS} s"
        if times:
            peer += f", median {statistics.median(times):.0f} ms"
    p95 = ms[math.ceil(len(ms) * 0.95) - 1]  # the nearest rank: of 20 the 19th
    print(f"{jobs:5} {nurses:7} {statistics.median(ms):10.1f} {p95:10.1f} {ms[-1]:10.1f} "
          f"{proven:4} of {len(ms):3} {none:10}   {peer}", flush=True)
    return decided > 0


def main():
    print("round: time to a proven answer. Aims: 8 with 2 nurses in 50 ms at the 95th percentile, 12 with 3 in 1 s.")
    print(" jobs  nurses  median ms     95 % ms    most ms   proven   no answer   Gecode")
    asked = {1: True, 2: True, 3: True}
    for jobs in (4, 6, 8, 10, 12):
        for nurses in (1, 2, 3):
            asked[nurses] = row(jobs, nurses, asked[nurses]) and asked[nurses]


main()
