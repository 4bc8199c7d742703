#!/usr/bin/python3
"""How long `hangtime review` takes over 100, 1,000 and 10,000 logs. Measures and never judges; for scripts/bench.

    review.py COMMAND [quick]

The logs are attempts at the shipped rehearsals, made into sessions; the same few stand there many times.
"""

import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main():
    command, quick = Path(sys.argv[1]).resolve(), "quick" in sys.argv[2:]
    logs = []
    for actions in sorted((ROOT / "demo-data/rehearsals/actions").glob("*.json")):
        scenario = ROOT / "demo-data/rehearsals" / (actions.name.split(".")[0] + ".json")
        log = subprocess.run([command, "rehearse", scenario, "--actions", actions, "--log"], cwd=ROOT,
                             capture_output=True, text=True).stdout
        logs.append(re.sub(r', "sum": "[0-9a-f]{16}"}', "}", log.replace('"rehearsal": true, ', "", 1)))
    size = sum(map(len, logs)) / len(logs) / 1024
    print(f"review: logs of {size:.0f} KiB, {sum(log.count(chr(10)) for log in logs) / len(logs):.0f} records each")
    with tempfile.TemporaryDirectory() as folder:
        names = []
        for i in range(10_000):
            names.append(f"{i}.log")
            (Path(folder) / names[-1]).write_text(logs[i % len(logs)], encoding="utf-8")
        for count in (100, 1_000, 10_000):
            took = []
            for _ in range(1 if quick else 5):
                start = time.perf_counter()
                done = subprocess.run([command, "review", *names[:count], "--as", "json"], cwd=folder, capture_output=True)
                took.append(time.perf_counter() - start)
                if done.returncode != 0:
                    sys.exit(f"review failed: {done.stderr.decode()[:300]}")
            aim = ", aim 2 s" if count == 10_000 else ""
            print(f"review of {count} sessions: {statistics.median(took):.3f} s (least {min(took):.3f} s{aim})")


if __name__ == "__main__":
    main()
