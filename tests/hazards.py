#!/usr/bin/python3
"""Every hazard in hazards.md names its control and a test that exists, or says "not yet".

Run: hazards.py [ROOT]. Prints TAP, one test a row. In the table's last column each `name in backticks` must be
the whole name of a test: a Catch2 TEST_CASE, a node test(...), a Python test method or a "//! name:" block. After
the name of a TEST_CASE a section's may follow, behind " / ".
"""

import re
import sys
from pathlib import Path

PATTERNS = {
    ".cpp": r'\b(?:TEST_CASE|TEST_CASE_METHOD|SECTION)\s*\((?:\s*\w+\s*,)?\s*((?:"(?:\\.|[^"\\])*"\s*)+)|'
            r"^//! (.+?): .+ -> ",
    ".mjs": r"""\b(?:test|it)\s*\(\s*(["'`])((?:\\.|(?!\1).)*)\1""",
    ".py": r"\bdef (test_\w+)",
}


def names(text, suffix):
    for match in re.finditer(PATTERNS[suffix], text, re.M):
        if suffix == ".mjs":
            yield match.group(2)
        elif match.group(1) and suffix == ".cpp":
            yield "".join(re.findall(r'"((?:\\.|[^"\\])*)"', match.group(1)))
        else:
            yield match.group(1) or match.group(2)


def rows(text):
    """(number, cells) of every row of a table with at least five columns whose first cell is a number."""
    for line in text.splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if len(cells) >= 5 and re.fullmatch(r"\d+", cells[0]):
            yield int(cells[0]), cells


def problems(cells, known):
    *_, control, tests = cells
    if not control:
        yield "names no control"
    wanted = re.findall(r"`([^`]+)`", tests)
    if not wanted and "not yet" not in tests:
        yield 'names no test in backticks and does not say "not yet"'
    for name in wanted:
        for part in name.split(" / "):
            if part not in known:
                yield f"there is no test '{part}'"


def self_test():
    known = set(names('TEST_CASE("a b" " c", "[x]") {}\n//! d: 1 -> 2', ".cpp")) | {"e"}
    table = "| # | hazard | cause | control | test |\n|---|---|---|---|---|\n| 1 | h | c | x | {} |"

    def bad(cell):
        return any(list(problems(cells, known)) for _, cells in rows(table.format(cell)))
    return [("finds a test that is not there", bad("`nothing`")), ("finds a missing test", bad("")),
            ("accepts what is there", not bad("`a b c`, `d`, `e / e`")),
            ('accepts "not yet"', not bad("not yet: later"))]


def main():
    root = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).resolve().parents[1])
    known = {name for path in (root / "tests").rglob("*")
             if path.suffix in PATTERNS and "node_modules" not in path.parts
             for name in names(path.read_text(encoding="utf-8"), path.suffix)}
    results = [(f"the check of hazards {name}", [] if good else ["it does not"])
               for name, good in self_test()]
    table = root / "tests/hazards.md"
    found = list(rows(table.read_text(encoding="utf-8"))) if table.exists() else []
    if [number for number, _ in found] != list(range(1, len(found) + 1)) or not found:
        results.append(("tests/hazards.md has rows numbered from 1", ["it has not"]))
    results += [(f"hazard {number}: {cells[1]}", list(problems(cells, known))) for number, cells in found]
    for number, (name, wrong) in enumerate(results, 1):
        print(f"{'not ok' if wrong else 'ok'} {number} - {name}")
        for problem in wrong:
            print(f"# {problem}")
    print(f"1..{len(results)}")
    return 1 if any(wrong for _, wrong in results) else 0


if __name__ == "__main__":
    sys.exit(main())
