#!/usr/bin/python3
"""The directions of the house, checked: who may include whom, and what may stand where.

Run: check.py [ROOT]. Prints TAP: one test for each rule, then one for each planted violation (a rule that
lets one pass is worthless). Exits 1 if anything failed.

The top-level headers of core/ are the vocabulary; sheet, words and json are leaves, which see only the
vocabulary and which anyone may use; the other folders stand in layers and see only lower ones.
"""

import re
import subprocess
import sys
from pathlib import Path

# Folder of core/ -> the folders that it may include, besides the vocabulary and the leaves.
LEAVES = {"sheet", "words", "json"}
BELOW = {"protocol": set()}
BELOW["match"] = BELOW["observe"] = {"protocol"}
BELOW["session"] = {"protocol", "match", "observe"}
BELOW["reckon"] = BELOW["session"] | {"session"}
BELOW["round"] = BELOW["plan"] = BELOW["reckon"] | {"reckon"}  # plan: its documents
BELOW["plan"] = BELOW["plan"] | {"round"}
BELOW["report"] = BELOW["plan"] | {"plan"}  # documents about observations and reactions
BELOW["rehearse"] = BELOW["plan"] | {"plan"}  # rehearsals and the review, with their documents
BELOW["cli"] = BELOW["round"] | {"round", "rehearse", "plan", "report"}

WEB_FOLDERS_BELOW = {  # what each folder of web/ must not see
    "widgets": {"screens"},
    "input": {"screens", "widgets", "render"},
    "render": {"screens", "widgets", "input", "platform"},
    "platform": {"screens", "widgets"},
}

NOT_IN_CORE = re.compile(  # clocks, threads, input and output, floating point, the browser, the screen
    r"(imgui.*|emscripten.*|ctime|time\.h|sys/.*|unistd\.h|iostream|fstream|filesystem|cstdio|stdio\.h|"
    r"print|syncstream|thread|mutex|future|atomic|random|cmath|math\.h|complex|cfenv|exception|stdexcept|"
    r"typeinfo)$")
ONLY_IN_CLI = re.compile(r"(iostream|fstream|filesystem|cstdio|stdio\.h|ctime|time\.h|unistd\.h)$")
READS_A_CLOCK = re.compile(
    r"\b(?:system|steady|high_resolution|utc|tai|gps|file)_clock\b|::\s*now\s*\(|"
    r"\b(?:time|clock|gettimeofday|clock_gettime)\s*\(\s*(?:\)|nullptr|NULL|0\s*\)|&)")

INTERACTIVE = re.compile(
    r"(?:(?:Small|Invisible|Arrow|Image|Color|TabItem|Radio)?Button\w*|Checkbox\w*|Selectable|Input\w+|"
    r"V?Slider\w+|Drag\w+|(?:Begin)?Combo\w*|(?:Begin)?ListBox\w*|(?:Begin)?Menu\w*|TreeNode\w*|TreePush|"
    r"CollapsingHeader|BeginTab\w*|Color(?:Edit|Picker)\w*|BeginPopup\w*|OpenPopup\w*|BeginChild\w*|ItemAdd|"
    r"IsItem\w+|IsMouse\w+|IsKey\w+|IsAnyItem\w+|IsWindowHovered|GetMouse\w+|Shortcut|"
    r"Set(?:Keyboard|Item)\w+)$")

WAY_ROUND_WIDGETS = re.compile(r"\busing\b.*\bImGui\b|\bnamespace\s+\w+\s*=\s*ImGui\b|\bGetIO\b")


def without_comments(text):
    """The code alone: comments and the insides of strings and characters blanked, lines kept."""
    pattern = re.compile(
        r'//[^\n]*|/\*.*?\*/|R"(?P<d>[^()\\\s]{0,16})\(.*?\)(?P=d)"|"(?:\\.|[^"\\\n])*"'
        r"|(?<![0-9a-fA-F])'(?:\\.|[^'\\\n])*'", re.S)

    def blank(match):
        whole = match.group()
        newlines = "\n" * whole.count("\n")
        return newlines or " " if whole.startswith("/") else '""' + newlines
    return pattern.sub(blank, text)


def read_tree(root):
    """{path: text} of every C++ file in core/ and web/."""
    return {path.relative_to(root).as_posix(): path.read_text(encoding="utf-8")
            for top in ("core", "web") for path in sorted((root / top).rglob("*"))
            if path.suffix in (".hpp", ".cpp")}


def includes(text):
    """(line number, name, quoted?) of every #include."""
    for number, line in enumerate(text.splitlines(), 1):
        match = re.match(r'\s*#\s*include\s*(?:"([^"]+)"|<([^>]+)>)', line)
        if match:
            yield number, match.group(1) or match.group(2), match.group(1) is not None


def folder(path):
    """'core/reckon/x.hpp' -> ('core', 'reckon'); 'core/clock.hpp' -> ('core', '')."""
    parts = path.split("/")
    return parts[0], parts[1] if len(parts) > 2 else ""


def each_include(tree):
    for path, text in tree.items():
        for number, name, quoted in includes(text):
            yield path, number, name, quoted


# Each rule: tree -> list of "path:line: what is wrong". The docstring is the name of the test.

def rule_from_root(tree):
    """own files are included from the root, and exist"""
    for path, number, name, quoted in each_include(tree):
        own = name.startswith(("core/", "web/", "tests/"))
        if quoted and not own and not name.endswith(".inc"):     # .inc: written by the build
            yield f'{path}:{number}: "{name}" is not a path from the root (core/..., web/...)'
        elif own and name not in tree:
            yield f"{path}:{number}: {name} does not exist in core/ or web/"


def rule_core_sees_core(tree):
    """core includes nothing of web or tests"""
    for path, number, name, _ in each_include(tree):
        if path.startswith("core/") and name.startswith(("web/", "tests/")):
            yield f"{path}:{number}: core includes {name}"


def rule_layers(tree):
    """folders of core include only lower ones and leaves"""
    for path, number, name, _ in each_include(tree):
        top, layer = folder(path)
        if top != "core" or not name.startswith("core/"):
            continue
        wanted = folder(name)[1]
        if layer not in BELOW and layer not in LEAVES and layer != "":
            yield f"{path}:{number}: core/{layer} is in no layer; give it one in tests/imports/check.py"
        elif wanted in ("", layer):
            continue
        elif layer == "":
            yield f"{path}:{number}: the vocabulary includes {name}; it knows only itself"
        elif layer in LEAVES:
            yield f"{path}:{number}: the leaf core/{layer} includes {name}; a leaf sees only the vocabulary"
        elif wanted not in BELOW[layer] and wanted not in LEAVES:
            yield f"{path}:{number}: core/{layer} includes {name}; it sees {sorted(BELOW[layer] | LEAVES)}"


def rule_web_layers(tree):
    """web includes core but not its command line; inside web the screens are on top"""
    for path, number, name, _ in each_include(tree):
        top, layer = folder(path)
        if top != "web":
            continue
        if name.startswith("core/cli/"):
            yield f"{path}:{number}: web includes {name}"
        if name.startswith("tests/"):
            yield f"{path}:{number}: web includes {name}"
        if name.startswith("web/") and folder(name)[1] in WEB_FOLDERS_BELOW.get(layer, ()):
            yield f"{path}:{number}: web/{layer} includes {name}"


def rule_no_circles(tree):
    """no file includes itself by a detour"""
    edges = {path: [name for _, name, _ in includes(text) if name in tree] for path, text in tree.items()}
    state = {}

    def visit(path, trail):
        state[path] = "open"
        for name in edges[path]:
            if state.get(name) == "open":
                yield " -> ".join(trail + [path, name])
            elif name not in state:
                yield from visit(name, trail + [path])
        state[path] = "done"
    for path in edges:
        if path not in state:
            yield from visit(path, [])


def rule_core_is_pure(tree):
    """core includes no clock, no input or output, no browser, no ImGui"""
    for path, number, name, _ in each_include(tree):
        if not path.startswith("core/"):
            continue
        if NOT_IN_CORE.match(name) and not (path.startswith("core/cli/") and ONLY_IN_CLI.match(name)):
            yield f"{path}:{number}: <{name}> in core"
    for path, text in tree.items():     # <chrono> itself is allowed, for its calendar
        if path.startswith("core/") and not path.startswith("core/cli/"):
            for number, line in enumerate(without_comments(text).splitlines(), 1):
                if match := READS_A_CLOCK.search(line):
                    yield f"{path}:{number}: {match.group()}: core is told the time, it does not ask"


def rule_json_in_one_place(tree):
    """only core/json includes nlohmann_json"""
    for path, number, name, _ in each_include(tree):
        if name.startswith("nlohmann") and not path.startswith("core/json/"):
            yield f"{path}:{number}: <{name}> outside core/json"


def rule_no_floating_point(tree):
    """no floating point in core"""
    for path, text in tree.items():
        if not path.startswith("core/"):
            continue
        for number, line in enumerate(without_comments(text).splitlines(), 1):
            if line.lstrip().startswith("#include"):
                continue
            match = re.search(r"\b(float|double|float_t|double_t|sto[fd]|strto[fd]|ato[f])\b|"
                              r"(?<![\w.])(?:\d[\d']*\.\d*|\.\d+)(?:[eE][+-]?\d+)?|\b\d+[eE][+-]?\d+\b", line)
            if match:
                yield f"{path}:{number}: {match.group()}"


def rule_screens_use_widgets(tree):
    """screens call no interactive ImGui function"""
    for path, text in tree.items():
        if not path.startswith("web/screens/"):
            continue
        for number, line in enumerate(without_comments(text).splitlines(), 1):
            for match in re.finditer(r"\bImGui\s*::\s*(\w+)", line):
                if INTERACTIVE.match(match.group(1)):
                    yield f"{path}:{number}: {match.group()}"
            if WAY_ROUND_WIDGETS.search(line):
                yield f"{path}:{number}: a way around web/widgets: {line.strip()}"
        for number, name, _ in includes(text):
            if name == "imgui_internal.h":
                yield f"{path}:{number}: {name}"


def rule_headers_once(tree):
    """every header starts with #pragma once"""
    for path, text in tree.items():
        if path.endswith(".hpp") and not without_comments(text).lstrip().startswith("#pragma once"):
            yield f"{path}:1: no #pragma once"


def rule_every_code_in_a_switch(tree):
    """a switch over codes in core names every one of them"""
    # The compiler objects to one that is missing only where no default hides it.
    for path, text in tree.items():
        if not path.startswith("core/"):
            continue
        code = without_comments(text)
        for match in re.finditer(r"\bswitch\s*\(", code):
            begin = code.find("{", match.end())
            depth, end = 0, begin
            for end in range(begin, len(code)):
                depth += {"{": 1, "}": -1}.get(code[end], 0)
                if depth == 0:
                    break
            body = code[begin:end]
            if re.search(r"\bcase\s+[\w:]*\w::\w+", body) and re.search(r"\bdefault\s*:", body):
                line = code.count("\n", 0, match.start()) + 1
                yield f"{path}:{line}: a default hides codes that are forgotten"


RULES = [value for name, value in list(globals().items()) if name.startswith("rule_")]

# (rule that must object, path, text, must it object?) on top of a small clean tree.
CLEAN = {
    "core/clock.hpp": '#pragma once\n#include <compare>\n',
    "core/words/codes.hpp": '#pragma once\n#include "core/clock.hpp"\n',
    "core/protocol/protocol.hpp": '#pragma once\n#include "core/words/codes.hpp"\n',
    "core/match/group.hpp": '#pragma once\n#include "core/protocol/protocol.hpp"\n',
    "core/session/log.hpp": '#pragma once\n#include "core/match/group.hpp"\n',
    "core/reckon/reckon.hpp":
        '#pragma once\n#include "core/session/log.hpp"\n#include "core/words/codes.hpp"\n',
    "core/round/round.hpp": '#pragma once\n#include "core/reckon/reckon.hpp"\n',
    "core/cli/main.cpp": '#include "core/round/round.hpp"\n#include <cstdio>\n',
    "core/json/read.cpp": '#include "core/clock.hpp"\n#include <nlohmann/json.hpp>\n',
    "web/widgets/keypad.hpp": '#pragma once\n#include <imgui.h>\n#include "core/reckon/reckon.hpp"\n',
    "web/screens/plan.cpp": '#include "web/widgets/keypad.hpp"\nvoid f() { ImGui::SameLine(); }\n',
}
PLANTED = [
    (rule_every_code_in_a_switch, "core/a.cpp",
     "int f(Kind k) {\n  switch (k) {\n    case Kind::a: return 1;\n    default: return 2;\n  }\n}", True),
    (rule_every_code_in_a_switch, "core/a.cpp",
     "int f(Kind k) {\n  switch (k) {\n    case Kind::a: return 1;\n  }\n  return 2;\n}", False),
    (rule_every_code_in_a_switch, "core/a.cpp",
     "int f(char c) {\n  switch (c) {\n    case '<': return 1;\n    default: return 2;\n  }\n}", False),
    (rule_from_root, "core/a.cpp", '#include "clock.hpp"\n', True),
    (rule_from_root, "core/a.cpp", '#include "core/missing.hpp"\n', True),
    (rule_core_sees_core, "core/reckon/a.cpp", '#include "web/widgets/keypad.hpp"\n', True),
    (rule_layers, "core/protocol/a.cpp", '#include "core/session/log.hpp"\n', True),
    (rule_layers, "core/session/a.cpp", '#include "core/reckon/reckon.hpp"\n', True),
    (rule_layers, "core/match/a.cpp", '#include "core/session/log.hpp"\n', True),
    (rule_layers, "core/match/a.cpp", '#include "core/observe/signs.hpp"\n', True),
    (rule_layers, "core/reckon/a.cpp", '#  include   "core/round/round.hpp"\n', True),
    (rule_layers, "core/words/a.cpp", '#include "core/protocol/protocol.hpp"\n', True),
    (rule_layers, "core/json/a.cpp", '#include "core/words/codes.hpp"\n', True),
    (rule_layers, "core/b.hpp", '#pragma once\n#include "core/protocol/protocol.hpp"\n', True),
    (rule_layers, "core/elsewhere/a.cpp", '#include "core/clock.hpp"\n', True),
    (rule_layers, "core/reckon/a.cpp", '#include "core/json/read.hpp"\n', False),
    (rule_web_layers, "web/main.cpp", '#include "core/cli/options.hpp"\n', True),
    (rule_web_layers, "web/widgets/a.cpp", '#include "web/screens/plan.hpp"\n', True),
    (rule_web_layers, "web/screens/a.cpp", '#include "core/reckon/reckon.hpp"\n', False),
    (rule_no_circles, "core/clock.hpp", '#pragma once\n#include "core/words/codes.hpp"\n', True),
    (rule_core_is_pure, "core/a.cpp", "#include <ctime>\n", True),
    (rule_core_is_pure, "core/a.cpp", "auto t = std::chrono::system_clock::now();\n", True),
    (rule_core_is_pure, "core/a.cpp", "auto t = time(nullptr);\n", True),
    (rule_core_is_pure, "core/a.cpp", "#include <chrono>\nauto y = std::chrono::year{2026};\n", False),
    (rule_core_is_pure, "core/a.cpp", "auto w = read_clock(where); auto n = now(in);\n", False),
    (rule_core_is_pure, "core/reckon/a.cpp", "#include <iostream>\n", True),
    (rule_core_is_pure, "core/a.cpp", "#include <imgui.h>\n", True),
    (rule_core_is_pure, "core/cli/a.cpp", "#include <emscripten.h>\n", True),
    (rule_core_is_pure, "core/cli/a.cpp", "#include <fstream>\n", False),
    (rule_json_in_one_place, "core/cli/a.cpp", "#include <nlohmann/json.hpp>\n", True),
    (rule_json_in_one_place, "web/main.cpp", "#include <nlohmann/json_fwd.hpp>\n", True),
    (rule_no_floating_point, "core/a.cpp", "long double x;\n", True),
    (rule_no_floating_point, "core/a.cpp", "auto x = 1.5;\n", True),
    (rule_no_floating_point, "core/a.cpp", "auto x = 1'000.5;\n", True),
    (rule_no_floating_point, "core/a.cpp", "auto x = 1e3;\n", True),
    (rule_no_floating_point, "core/a.cpp", "float f(float);\n", True),
    (rule_no_floating_point, "core/a.cpp",
     '// double 1.5\n/* float\n 2.5 */ auto s = "double 1.5"; char c = \'"\'; auto r = R"(float 1.5)"; '
     "int x = 1'000, y = 0x1e3, redoubled = 2;\n", False),
    (rule_screens_use_widgets, "web/screens/a.cpp", 'void f() { ImGui::Button("x"); }\n', True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "void f() { ImGui :: InputText(0); }\n", True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "bool f() { return ImGui::IsItemClicked(); }\n", True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "using namespace ImGui;\n", True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "namespace g = ImGui;\n", True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "#include <imgui_internal.h>\n", True),
    (rule_screens_use_widgets, "web/screens/a.cpp", "// ImGui::Button\nvoid f() { ImGui::Text(); }\n", False),
    (rule_screens_use_widgets, "web/widgets/a.cpp", 'void f() { ImGui::Button("x"); }\n', False),
    (rule_headers_once, "core/a.hpp", "namespace hangtime {}\n", True),
    (rule_headers_once, "core/a.hpp", "/// What it is.\n#pragma once\n", False),
]


def static_data(library):
    """Sections with changeable data in the core's objects: globals, which core must not have."""
    listing = subprocess.run(["size", "-A", library], capture_output=True, text=True, check=True).stdout
    member = ""
    for line in listing.splitlines():
        words = line.split()
        if line.rstrip().endswith(":"):
            member = words[0]
        elif len(words) == 3 and re.match(r"\.(t?data|t?bss)(\.|$)", words[0]) and words[1].isdigit() \
                and not words[0].startswith(".data.rel.ro") and int(words[1]) > 0:
            yield f"{member}: {words[1]} bytes in {words[0]}"


def main():
    root = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).resolve().parents[2])
    tree = read_tree(root)
    results = []

    def report(name, problems):
        results.append(not problems)
        print(f"{'not ok' if problems else 'ok'} {len(results)} - {name}")
        for problem in problems[:20]:
            print(f"# {problem}")

    if not tree:
        report("there are files in core/ and web/", ["none found"])
    for rule in RULES:
        report(rule.__doc__, list(rule(tree)))
    library = root / "build/native/libhangtime_core.a"
    if library.exists():
        report("core has no global that changes", list(static_data(library)))
    for rule in RULES:
        problems = list(rule(CLEAN))
        report(f"nothing found in a clean tree: {rule.__doc__}", problems)
    for number, (rule, path, text, wrong) in enumerate(PLANTED, 1):
        found = list(rule({**CLEAN, path: text}))
        name = f"{'planted' if wrong else 'allowed'} {number}: {rule.__doc__}: {text.splitlines()[-1][:60]}"
        report(name, [] if bool(found) == wrong else found or ["not found"])
    print(f"1..{len(results)}")
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
