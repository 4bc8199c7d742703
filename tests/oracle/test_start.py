#!/usr/bin/python3
"""scripts/start itself: what it prints last, what it ends with, and that it serves the page and nothing else. The
tree is built when this runs, so nothing is built again here."""

import os
import re
import signal
import socket
import subprocess
import time
import unittest
import urllib.error
import urllib.request

from command import COMMAND, DEMOS, PAGE, ROOT, hangtime

START = ROOT / "scripts/start"


def environment(**changed):
    """No display: nothing is opened on a tester's screen."""
    kept = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return {**kept, **changed}


def start(*words, **changed):
    done = subprocess.run([START, *words], capture_output=True, text=True, timeout=600, cwd="/",
                          env=environment(**changed), stdin=subprocess.DEVNULL)
    return done.returncode, done.stdout, done.stderr


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


class Start(unittest.TestCase):
    def test_it_prints_the_first_demo_and_where_the_page_is(self):
        before = os.stat(COMMAND).st_mtime_ns
        status, out, err = start()
        self.assertEqual((status, err), (0, ""))
        self.assertEqual(os.stat(COMMAND).st_mtime_ns, before)
        sheet, _, last = out.rstrip("\n").rpartition("\n\n")
        self.assertEqual(sheet.strip(), hangtime("sheet", DEMOS[0].relative_to(ROOT))[1].strip())
        found = re.fullmatch(r"The page: (.*) \((\d+) kB, everything inside; it opens from disk\)", last)
        self.assertIsNotNone(found, last)
        self.assertEqual(found[1], str(PAGE))
        self.assertEqual(int(found[2]), PAGE.stat().st_size // 1000)

    def test_it_serves_the_page_on_this_machine_until_it_is_stopped(self):
        port = free_port()
        # What runs in the background of a script ignores Ctrl+C, and so would all that it starts.
        served = subprocess.Popen([START, "--serve", str(port)], stdout=subprocess.PIPE,
                                  stderr=subprocess.PIPE, text=True, env=environment(),
                                  stdin=subprocess.DEVNULL, start_new_session=True,
                                  preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL))
        try:
            where = f"http://127.0.0.1:{port}/"
            for line in served.stdout:
                if line.startswith("Served at"):
                    break
            self.assertEqual(line, f"Served at {where}hangtime.html until Ctrl+C\n")
            for _ in range(300):
                try:
                    page = urllib.request.urlopen(f"{where}hangtime.html", timeout=10).read()
                    break
                except urllib.error.URLError:
                    time.sleep(0.1)
            self.assertEqual(page, PAGE.read_bytes())
            for other in ("hangtime", "../README.md", "native/hangtime"):
                with self.assertRaises(urllib.error.HTTPError) as refused:
                    urllib.request.urlopen(where + other, timeout=10)
                self.assertEqual(refused.exception.code, 404)
                refused.exception.close()
            # The same port again: one line that says what to do.
            status, _, err = start("--serve", str(port))
            self.assertEqual((status, err), (1, f"start: port {port} cannot be used; name another: "
                                                "scripts/start --serve PORT\n"))
        finally:
            os.killpg(served.pid, signal.SIGINT)            # Ctrl+C
            _, err = served.communicate(timeout=30)
        self.assertIn(served.returncode, (0, 130, -signal.SIGINT))
        self.assertEqual(err, "")

    def test_what_is_wrong_is_said_in_one_line(self):
        cases = [
            (("--server",), {}, "unknown argument '--server'; use: scripts/start [--serve [PORT]]"),
            (("--serve", "0"), {}, "'0' is not a port; use a number from 1 to 65535"),
            (("--serve", "65536"), {}, "'65536' is not a port; use a number from 1 to 65535"),
            (("--serve", "80a"), {}, "'80a' is not a port; use a number from 1 to 65535"),
            ((), {"EMXX": "/nowhere/em++"}, "no em++ in PATH; run scripts/setup as root, or name yours: "
                                            "EMXX=/path/to/em++ scripts/start"),
        ]
        for words, changed, last in cases:
            with self.subTest(words=words, changed=changed):
                status, out, err = start(*words, **changed)
                self.assertEqual((status, out), (1, ""))
                self.assertEqual(err, f"start: {last}\n")


if __name__ == "__main__":
    unittest.main()
