"""Runs the test suites and counts their test cases; scripts/test calls it when everything is built.

Each suite is counted by what its own runner reports, never by what we expect. A suite that ran no test, ended
early or says success with failed tests counts as a failure. The last line is "N passed, N failed"
(", N skipped" is added if any were).
"""

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from concurrent.futures import ThreadPoolExecutor
from itertools import zip_longest
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NATIVE = ROOT / "build/native"
WASM = ROOT / "build/wasm"
NODE = ["node", "--no-experimental-fetch"]  # Emscripten's JavaScript would fetch the file it should read
PYTHON = "/usr/bin/python3"                 # Debian's own, which has the reference libraries
TIME_LIMIT = 1200                           # seconds for one program; a hang is a failure
PARITY_INPUTS = 1000
FORMATS = ("text", "html", "json", "csv", "ics")
SHEET_FORMATS = ("text", "html", "json")
COMPONENTS = ("red_cells", "platelets", "plasma", "cryoprecipitate", "whole_blood", "granulocytes")


class Count:
    def __init__(self):
        self.passed = self.failed = self.skipped = 0
        self.words = []                         # what to show about failures

    def fail(self, *words):
        self.failed += 1
        self.words += words

    def add(self, passed, failed, skipped=0):
        self.passed += passed
        self.failed += failed
        self.skipped += skipped


def run(command, cwd=ROOT):
    """(exit status, standard output, standard error); status -1 after the time limit.

    The output goes to files: Node.js writes to a pipe later, and what is still waiting when an Emscripten program
    ends is lost.
    """
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        def texts():
            for stream in (out, err):
                stream.seek(0)
                yield stream.read().decode(errors="replace")
        try:
            done = subprocess.run([str(word) for word in command], cwd=cwd, stdin=subprocess.DEVNULL,
                                  stdout=out, stderr=err, timeout=TIME_LIMIT)
            return done.returncode, *texts()
        except subprocess.TimeoutExpired:
            return -1, next(texts()), f"stopped after {TIME_LIMIT} s"
        except OSError as error:
            return -2, "", str(error)


def last_lines(text, most=40):
    return [line[:300] for line in text.strip().splitlines()[-most:]]


def catch2(count, program, before=()):
    """Counts TEST_CASEs by Catch2's XML report; one without an assertion fails."""
    if not program.exists():
        return
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.xml"
        status, out, err = run([*before, program, "--reporter", f"xml::out={report}", "--reporter",
                                "console::out=%stdout", "--colour-mode", "none", "--warn", "NoAssertions"])
        try:
            tree = ElementTree.parse(report).getroot()
            cases = tree.find("OverallResultsCases").attrib
        except (OSError, ElementTree.ParseError, AttributeError):
            return count.fail(f"{program.name} ended early (status {status})", *last_lines(out + err))
    failed = int(cases["failures"])
    count.add(int(cases["successes"]) + int(cases["expectedFailures"]), failed, int(cases.get("skips", 0)))
    if failed:
        count.words += last_lines(out, 120)
    elif status not in (0, 4):                  # 4: all tests were skipped
        count.fail(f"{program.name} ended with status {status}", *last_lines(out + err))


def tap(count, command):
    """Counts by TAP lines at the left edge, and holds the program to its plan."""
    status, out, err = run(command)
    lines = out.splitlines()
    good = [line for line in lines if re.match(r"ok\b", line)]
    bad = [line for line in lines if re.match(r"not ok\b", line)]
    skipped = [line for line in good if re.search(r"# skip", line, re.I)]
    count.add(len(good) - len(skipped), len(bad), len(skipped))
    for number, line in enumerate(lines):
        if line in bad:
            count.words += [line] + [more for more in lines[number + 1:number + 21] if more.startswith("#")]
    plan = re.search(r"^1\.\.(\d+)$", out, re.M)
    planned = int(plan.group(1)) if plan else 0
    if planned != len(good) + len(bad) or planned == 0 or (status != 0) != bool(bad):
        count.fail(f"{command[1]}: status {status}, {len(good) + len(bad)} results, {planned} planned",
                   *last_lines(err))


def failed_subtests(out, most=40):
    """Of node's TAP report: each innermost test that failed, with the suites that it is in and what it said."""
    words, above, lines = [], {}, out.splitlines()
    for number, line in enumerate(lines):
        depth = len(line) - len(line.lstrip())
        if match := re.match(r"\s*# Subtest: (.*)", line):
            above[depth] = match.group(1)
        match = re.match(r"\s*not ok \d+ - (.*)", line)
        if not match:
            continue
        end = next((at for at, more in enumerate(lines[number + 1:], number + 1) if more.strip() == "..."), number)
        said = lines[number + 1:end]
        if any("failureType: 'subtestsFailed'" in more for more in said):
            continue                            # its own tests have been told
        suites = [above[at] for at in sorted(above) if at < depth]
        words.append("not ok: " + " > ".join([*suites, match.group(1)]))
        words += ["    " + more.strip()[:300] for more in said[:most] if more.strip() not in ("---", "")]
    return words


def suite_native(count):
    catch2(count, NATIVE / "core_tests")


def suite_wasm(count):
    catch2(count, WASM / "core_tests.js", NODE)


def suite_web(count):
    catch2(count, NATIVE / "web_tests")


def suite_oracle(count):
    """Each tests/oracle/*.py is a unittest program."""
    for path in sorted((ROOT / "tests/oracle").glob("*.py")):
        if "unittest" not in path.read_text(encoding="utf-8"):
            continue                            # something that the others import
        status, out, err = run([PYTHON, path])
        ran = re.search(r"^Ran (\d+) tests?", err, re.M)
        if not ran:
            count.fail(f"{path.name} ended early (status {status})", *last_lines(out + err))
            continue
        number = {key: int(value) for key, value in re.findall(r"(\w+)=(\d+)", err[ran.end():])}
        failed = number.get("failures", 0) + number.get("errors", 0) + number.get("successes", 0)
        skipped = number.get("skipped", 0)
        count.add(max(0, int(ran.group(1)) - failed - skipped), failed, skipped)
        if failed:
            count.words += [path.name, *last_lines(err, 80)]
        elif status != 0:
            count.fail(f"{path.name} ended with status {status}", *last_lines(err))


def suite_checks(count):
    tap(count, [PYTHON, ROOT / "tests/imports/check.py"])
    tap(count, [PYTHON, ROOT / "tests/compile_fail/run.py"])
    tap(count, [PYTHON, ROOT / "tests/hazards.py"])
    tap(count, ["node", ROOT / "tests/browser/exports.mjs"])


def suite_parity(count):
    """Native and WebAssembly say the same, byte for byte: random inputs, and every demo in every format."""
    outputs = [run([NATIVE / "parity", PARITY_INPUTS]), run([*NODE, WASM / "parity.js", PARITY_INPUTS])]
    native, wasm = (out.splitlines() for _, out, _ in outputs)
    if any(status != 0 for status, _, _ in outputs):
        count.fail("parity ended early", *(line for _, _, err in outputs for line in last_lines(err, 5)))
    elif len(native) < 2 * PARITY_INPUTS or len(set(native)) < PARITY_INPUTS:
        count.fail(f"parity printed {len(native)} lines, {len(set(native))} of them different; "
                   f"{PARITY_INPUTS} inputs were wanted")
    elif native != wasm:
        pairs = enumerate(zip_longest(native, wasm, fillvalue="nothing"), 1)
        first, one, two = next((number, *pair) for number, pair in pairs if pair[0] != pair[1])
        count.fail(f"input {first} differs:", f"native: {one[:300]}", f"wasm: {two[:300]}")
    else:
        count.passed += 1
    commands = [["sheet", path.relative_to(ROOT), "--as", form]
                for path in sorted((ROOT / "demo-data/transfusions").glob("*.json")) for form in FORMATS]
    commands += [["round", path.relative_to(ROOT), "--as", form]
                 for path in sorted((ROOT / "demo-data/rounds").glob("*.json")) for form in ("text", "json", "ics")]
    commands += [["sequence", path.relative_to(ROOT), "--as", form]
                 for path in sorted((ROOT / "demo-data/sequences").glob("*.json")) for form in ("text", "html", "json", "ics")]
    commands += [["replay", path.relative_to(ROOT), "--as", form]
                 for path in sorted((ROOT / "demo-data/logs").glob("*.jsonl")) for form in SHEET_FORMATS]
    commands += [["observe", path.relative_to(ROOT), "--as", form]
                 for path in sorted((ROOT / "demo-data/observations").glob("*.json")) for form in SHEET_FORMATS]
    commands += [["compatible", component, "--as", "json"] for component in COMPONENTS]
    for path in sorted((ROOT / "demo-data/rehearsals/actions").glob("*.json")):
        scenario = path.parent.parent / (path.name.split(".")[0] + ".json")
        commands += [["rehearse", scenario.relative_to(ROOT), "--actions", path.relative_to(ROOT), "--as", "json", "--seed", seed]
                     for seed in (1, 2)]
    commands += [["scan", "--as", "json", "=A99992112345663=%6200", "&>0260731340", "KX7319044"]]
    logs = [path.relative_to(ROOT) for path in sorted((ROOT / "demo-data/logs").glob("*.jsonl"))]
    commands += [["review", *logs, "--floor", floor, "--as", form] for floor in (1, 2) for form in ("text", "html", "json", "csv")]
    commands += [["rehearse", path.relative_to(ROOT), "--cards", "--seed", "7", "--as", "html"]
                 for path in sorted((ROOT / "demo-data/rehearsals").glob("*.json"))]
    for arguments in commands:
        one, two = run([NATIVE / "hangtime", *arguments]), run([*NODE, WASM / "hangtime.js", *arguments])
        if one[0] in (0, 1) and one[:2] == two[:2] and one[1]:
            count.passed += 1
        else:
            count.fail(f"{' '.join(map(str, arguments))}: native status {one[0]}, {len(one[1])} bytes; "
                       f"wasm status {two[0]}, {len(two[1])} bytes", *last_lines(one[2] + two[2], 6))


def suite_browser(count):
    tests = sorted((ROOT / "tests/browser").glob("*.test.mjs"))
    if not tests:
        return
    # Those that take longest begin first, so that none of them is left over. Most of what each does is waiting.
    long = ("rehearse", "time", "session", "store", "classroom", "webkit")
    tests.sort(key=lambda path: path.name.split(".")[0] not in long)
    status, out, err = run(["node", "--test", "--test-concurrency=3", "--test-reporter=tap", *tests])
    total = {key: int(value) for key, value in re.findall(r"^# (\w+) (\d+)$", out, re.M)}
    if "tests" not in total:
        return count.fail(f"node --test ended early (status {status})", *last_lines(out + err))
    failed = total["fail"] + total.get("cancelled", 0)
    count.add(total["pass"], failed, total.get("skipped", 0) + total.get("todo", 0))
    if failed:
        count.words += failed_subtests(out)
    elif status != 0:
        count.fail(f"node --test ended with status {status}", *last_lines(out + err))


# Name: (function, what --only takes).
SUITES = {
    "core, native": (suite_native, "native"),
    "core, WebAssembly": (suite_wasm, "wasm"),
    "screens, native": (suite_web, "web"),
    "reference libraries": (suite_oracle, "oracle"),
    "checks of the sources": (suite_checks, "checks"),
    "native against WebAssembly": (suite_parity, "parity"),
    "browsers": (suite_browser, "browser"),
}


def run_suite(name):
    count, start = Count(), time.monotonic()
    SUITES[name][0](count)
    if count.passed + count.failed + count.skipped == 0:
        count.fail("ran no test")
    words = f"{name}: {count.passed} passed, {count.failed} failed"
    if count.skipped:
        words += f", {count.skipped} skipped"
    words += f" ({time.monotonic() - start:.1f} s)"
    print("\n    ".join([words, *count.words]), flush=True)
    return count


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--only", choices=[only for _, only in SUITES.values()])
    only = parser.parse_args().only
    names = [name for name, (_, key) in SUITES.items() if only in (None, key)]
    os.environ.update(HANGTIME_ROOT=str(ROOT), HANGTIME=str(ROOT / "build/hangtime"),
                      HANGTIME_PAGE=str(ROOT / "build/hangtime.html"))
    # The browsers come first, as they take longest and mostly wait; the other suites run beside them.
    names.sort(key=lambda name: name != "browsers")
    with ThreadPoolExecutor(os.cpu_count() + 1) as pool:
        counts = list(pool.map(run_suite, names))
    passed, failed, skipped = (sum(getattr(count, key) for count in counts)
                               for key in ("passed", "failed", "skipped"))
    print(f"{passed} passed, {failed} failed" + (f", {skipped} skipped" if skipped else ""))
    return 1 if failed or passed == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
