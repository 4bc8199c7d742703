#!/usr/bin/python3
"""How long `hangtime review` takes over 100, 1,000 and 10,000 logs. Measures and never judges; for scripts/bench.

    review.py FOLDER [quick]

FOLDER holds the programs hangtime and sessions; the logs are those that the review is held against as well.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROTOCOLS = sorted((ROOT / "demo-data/protocols").glob("*.json"), key=lambda path: path.stem != "general-ward")


def main():
    programs, quick = Path(sys.argv[1]).resolve(), "quick" in sys.argv[2:]
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([programs / "sessions", "10000", "7", folder, *PROTOCOLS], check=True)
        files = sorted(Path(folder).glob("*.log"))
        size = sum(file.stat().st_size for file in files) / len(files) / 1024
        records = sum(file.read_bytes().count(b"\n") for file in files) / len(files)
        print(f"review: logs of {size:.0f} KiB, {records:.0f} records each")
        for count in (100, 1_000, 10_000):
            took = []
            for _ in range(1 if quick else 5):
                start = time.perf_counter()
                done = subprocess.run([programs / "hangtime", "review", *(file.name for file in files[:count]), "--as", "json"],
                                      cwd=folder, capture_output=True)
                took.append(time.perf_counter() - start)
                if done.returncode != 0:
                    sys.exit(f"review failed: {done.stderr.decode()[:300]}")
            aim = ", aim 2 s" if count == 10_000 else ""
            print(f"review of {count} sessions: {statistics.median(took):.3f} s (least {min(took):.3f} s{aim})")


if __name__ == "__main__":
    main()
