"""A round as a model in MiniZinc, for Gecode. Not a test itself.

Written from the rules in core/round/problem.hpp and from nothing else: every check has a slot and a nurse of its own
among the variables, and any two things that keep the same nurse busy are apart. Debian's globals.mzn does not load,
so nothing is included. The input is a line of tests/rounds/rounds.cpp.
"""

import os
import subprocess
import tempfile
import time

SLOT = 5


def scale(problem):
    """More than any sum of the lesser part of the cost, and small: Gecode's integers have 32 bits."""
    return 1 << 14 if problem["promise_first"] else 1 << 6


def model(problem):
    """The text of the model."""
    jobs, nurses, slots = problem["jobs"], problem["nurses"], problem["slots"]
    count = len(nurses)
    # busy[k, t]: how many slots before t nurse k is not free in; so an interval is free where both ends agree.
    lines = [f"array[0..{count - 1}, 0..{slots}] of int: busy = array2d(0..{count - 1}, 0..{slots}, {prefix(nurses)});"]
    parts, changes, things, order, people = [], [], [], [], []

    def column(name, i, options, value):
        lines.append(f"array[0..{len(options) - 1}] of int: {name}{i} = array1d(0..{len(options) - 1}, "
                     f"{[value(o) for o in options]});")

    def thing(nurse, begin, end):
        """Something that keeps a nurse busy."""
        for other in things:
            lines.append(f"constraint {nurse} != {other[0]} \\/ {end} <= {other[1]} \\/ {other[2]} <= {begin};")
        things.append((nurse, begin, end))
        lines.append(f"constraint busy[{nurse}, {end}] = busy[{nurse}, {begin}];")

    for i, job in enumerate(jobs):
        options = job["options"]
        if not options:
            return "constraint false; solve satisfy;"
        assert len({len(o["checks"]) for o in options}) == 1
        lines.append(f"var 0..{len(options) - 1}: o{i}; var 0..{count - 1}: n{i};")
        order.append(f"o{i}")
        people.append(f"n{i}")
        column("start", i, options, lambda o: o["start"])
        column("finish", i, options, lambda o: o["finish"])
        column("from", i, options, lambda o: o["lead"][0][0])
        column("to", i, options, lambda o: o["lead"][0][1])
        column("mask", i, options, lambda o: o["nurses"])
        lines.append(f"constraint (mask{i}[o{i}] div pow(2, n{i})) mod 2 = 1;")
        thing(f"n{i}", f"from{i}[o{i}]", f"to{i}[o{i}]")
        if problem["second"]:
            column("mfrom", i, options, lambda o: o["match"][0][0])
            column("mto", i, options, lambda o: o["match"][0][1])
            lines.append(f"var 0..{count - 1}: s{i};")
            people.append(f"s{i}")
            thing(f"s{i}", f"mfrom{i}[o{i}]", f"mto{i}[o{i}]")
        for c in range(len(options[0]["checks"])):
            column(f"cfrom{c}_", i, options, lambda o: o["checks"][c][0])
            column(f"cto{c}_", i, options, lambda o: o["checks"][c][1])
            lines.append(f"var 0..{slots - 1}: t{c}_{i}; var 0..{count - 1}: q{c}_{i};")
            lines.append(f"constraint t{c}_{i} >= cfrom{c}_{i}[o{i}] /\\ t{c}_{i} < cto{c}_{i}[o{i}];")
            thing(f"q{c}_{i}", f"t{c}_{i}", f"(t{c}_{i} + 1)")
            people += [f"t{c}_{i}", f"q{c}_{i}"]
        if job["follows"] >= 0:
            b = job["follows"]
            lines.append(f"constraint {SLOT} * start{i}[o{i}] >= finish{b}[o{b}] + {job['lag']};")
        parts.append(f"{job['weight']} * finish{i}[o{i}]")
        if job["promised_start"] >= 0:
            changes.append(f"bool2int(start{i}[o{i}] != {job['promised_start']})")
        if job["promised_nurse"] >= 0:
            changes.append(f"bool2int(n{i} != {job['promised_nurse']})")
    for pair in problem["apart"]:  # one person: either is over, and its lag, when the other starts
        a, b = pair["a"], pair["b"]
        lines.append(f"constraint {SLOT} * start{b}[o{b}] >= finish{a}[o{a}] + {pair['lag_b']} \\/ "
                     f"{SLOT} * start{a}[o{a}] >= finish{b}[o{b}] + {pair['lag_a']};")
    change = " + ".join(changes) or "0"
    first, second = (change, " + ".join(parts)) if problem["promise_first"] else (" + ".join(parts), change)
    lines.append(f"var int: cost = {scale(problem)} * ({first}) + {second};")
    # Starts first, the earliest first; then whatever is hardest to place.
    lines.append(f"solve :: seq_search([int_search([{', '.join(order)}], input_order, indomain_min), "
                 f"int_search([{', '.join(people)}], dom_w_deg, indomain_min)]) minimize cost;")
    lines.append('output ["cost=", show(cost)];')
    return "\n".join(lines)


def prefix(nurses):
    out = []
    for free in nurses:
        total = 0
        out.append(0)
        for slot in free:
            total += 1 - slot
            out.append(total)
    return out


def solve(problem, seconds):
    """("optimal", (finish, changes)), ("infeasible", None) or ("unknown", None); then the solver's own seconds."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "round.mzn")
        with open(path, "w", encoding="utf-8") as file:
            file.write(model(problem))
        begin = time.monotonic()
        done = subprocess.run(["minizinc", "--solver", "gecode", "--statistics", "--time-limit", str(int(seconds * 1000)),
                               path], capture_output=True, text=True, check=False)
        wall = time.monotonic() - begin
    spent = wall
    for line in done.stdout.splitlines():
        if line.startswith("%%%mzn-stat: solveTime="):
            spent = float(line.split("=")[1])
    if "=====UNSATISFIABLE=====" in done.stdout:
        return "infeasible", None, spent
    costs = [int(line[5:]) for line in done.stdout.splitlines() if line.startswith("cost=")]
    if "==========" not in done.stdout or not costs:
        if done.returncode != 0:
            raise RuntimeError(done.stderr or done.stdout)
        return "unknown", None, spent
    first, second = divmod(costs[-1], scale(problem))
    return "optimal", (second, first) if problem["promise_first"] else (first, second), spent
