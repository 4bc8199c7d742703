"""How the other files here run the command and find the tree. Not a test itself."""

import os
import subprocess
from pathlib import Path

ROOT = Path(os.environ.get("HANGTIME_ROOT", Path(__file__).resolve().parents[2]))
COMMAND = os.environ.get("HANGTIME", str(ROOT / "build/hangtime"))
PAGE = Path(os.environ.get("HANGTIME_PAGE", str(ROOT / "build/hangtime.html")))
DEMOS = sorted((ROOT / "demo-data/transfusions").glob("*.json"))
PROTOCOLS = sorted((ROOT / "demo-data/protocols").glob("*.json"))


def hangtime(*words, stdin=None, cwd=ROOT):
    """(exit status, standard output, standard error), texts as bytes would be: line ends are kept."""
    done = subprocess.run([COMMAND, *map(str, words)], input=stdin and stdin.encode(), capture_output=True, cwd=cwd,
                          timeout=60)
    return done.returncode, done.stdout.decode(), done.stderr.decode()
