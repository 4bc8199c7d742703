#!/usr/bin/python3
"""What must not compile does not, and for the reason given.

In each *.cpp here the text before the first "//!" line is common to all. A line "//! NAME: WRONG -> RIGHT"
opens a block. The compiler must refuse the block, and must accept it once WRONG is replaced by RIGHT.

Run: run.py [ROOT]; CXX names the compiler (g++). Prints TAP; exits 1 if anything failed or nothing was run.
"""

import os
import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
COMPILER = os.environ.get("CXX", "g++")


def blocks(text):
    """(prelude, [(name, wrong, right, code)])"""
    prelude, *rest = re.split(r"^//! ", text, flags=re.M)
    found = []
    for block in rest:
        head, _, code = block.partition("\n")
        match = re.fullmatch(r"(.+?): (.+) -> (.+)", head)
        if not match or code.count(match.group(2)) < 1:
            sys.exit(f"compile_fail: '//! {head}' is not '//! NAME: WRONG -> RIGHT' with WRONG in its block")
        found.append((*match.groups(), code.strip()))
    return prelude, found


def compiles(root, code):
    with tempfile.NamedTemporaryFile("w", suffix=".cpp") as file:
        file.write(code)
        file.flush()
        run = subprocess.run([COMPILER, "-std=c++20", "-fsyntax-only", "-fno-exceptions", "-fno-rtti",
                              "-Werror=narrowing", "-I", str(root), file.name],
                             capture_output=True, text=True)
    return run.returncode == 0, run.stderr


def mend(block):
    _, wrong, right, code = block
    return code.replace(wrong, right, 1)


def check(root, prelude, block, mended=False):
    """None, or what is wrong. `mended`: it is already known that the mended block is accepted."""
    accepted, _ = compiles(root, f"{prelude}\n{block[3]}\n")
    if accepted:
        return f"compiles, and must not: {block[3]}"
    if not mended:
        mended, words = compiles(root, f"{prelude}\n{mend(block)}\n")
        first = next(iter(words.splitlines()), "")
    return None if mended else f"does not compile even with {block[2]}: {first}"


def all_mended(root, prelude, found):
    """Whether the mended blocks of a file are accepted together, which saves compiling each of them alone."""
    apart = (f"namespace block_{number} {{\n{mend(block)}\n}}" for number, block in enumerate(found))
    return compiles(root, prelude + "\n" + "\n".join(apart) + "\n")[0]


def self_test(root):
    """This driver tells a block that compiles, and one that fails for another reason."""
    def fine(wrong, right, code):
        return check(root, "", ("", wrong, right, code)) is None
    return [
        ("the driver finds what compiles", not fine("1", "2", "int x = 1;")),
        ("the driver finds what fails for another reason", not fine("1", "2", "nothing x = 1;")),
        ("the driver accepts what is refused for its reason", fine("{}", "1", "int x = {} + 1;")),
    ]


def main():
    root = Path(sys.argv[1] if len(sys.argv) > 1 else HERE.parents[1])
    results = [(name, None if good else "wrong") for name, good in self_test(root)]
    jobs = []
    for path in sorted(HERE.glob("*.cpp")):
        prelude, found = blocks(path.read_text(encoding="utf-8"))
        mended = all_mended(root, prelude, found)
        jobs += [(f"{path.name}: {block[0]}", prelude, block, mended) for block in found]
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        outcomes = pool.map(lambda job: check(root, *job[1:]), jobs)
        results += [(job[0], problem) for job, problem in zip(jobs, outcomes)]
    for number, (name, problem) in enumerate(results, 1):
        print(f"{'not ok' if problem else 'ok'} {number} - {name}" + (f"\n# {problem}" if problem else ""))
    print(f"1..{len(results)}")
    return 1 if not jobs or any(problem for _, problem in results) else 0


if __name__ == "__main__":
    sys.exit(main())
