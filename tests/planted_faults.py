"""Plants small faults in the core, one at a time in a copy of the tree, and prints those that no test notices.

    python tests/planted_faults.py [--sample 300] [--seed 1] [--module sheetfuncs/limits.py ...] [--list]

By hand or at night: 300 faults take about a quarter of an hour. A fault is an operator swapped, a comparison turned or
its boundary moved, the last digit of a constant, a dropped term, min for max, swapped arguments, True for False; in a
table the last digit of a cell, or two neighbouring cells swapped. Text is left alone: names, sentences and columns that
say where a row is from. `docs/planted-faults.md` has the survivors of the sample that is kept, and why they survive.

mutmut and cosmic-ray plant no faults in tables, and here half of what can be wrong lies in tables.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
CORE, TABLES = "sheetfuncs", "sheetfuncs/standards/data"
COPIED = ("sheetfuncs", "tests", "workbook_template", "docs", "pyproject.toml")
WARM = ("pytest", "_pytest.assertion.rewrite", "hypothesis.strategies", "pint", "scipy.stats", "uncertainties", "lxml")
"""Loaded once, before the first fork; nothing of the tree itself."""
SAID = "said.txt"
"""What the last run of the tests said, beside the copy."""
PATIENCE_S = 60.0
"""Seconds of the processor: a fault that makes a loop endless is noticed when the tests take longer."""

CALLOUTS = "callouts_as_typed callouts_refused"
BY_OTHER_MEANS = "tables_by_other_means by_other_means"
EVERY_THREAD = (
    f"every_system {BY_OTHER_MEANS} published published_files geometry tip classless_depth call identify designations"
)
INCH = f"published unj_mj {EVERY_THREAD}"
PIPE = f"pipe_threads pipe_reprints {EVERY_THREAD}"
TESTS = {
    "__init__.py": "call command_line",
    "__main__.py": "command_line edges call",
    "caches.py": "start layers",
    "catalog.py": "call command_line",
    "console.py": "command_line",
    "cutting.py": f"tip edges {EVERY_THREAD} acme buttress whitworth ba lathe iso_trapezoidal every_thread",
    "designations.py": (
        f"{CALLOUTS} edges published {EVERY_THREAD} acme whitworth ba buttress pipe_threads lathe designations"
    ),
    "errors.py": "by_other_means edges call command_line",
    "estimating.py": "estimating by_other_means call",
    "forms.py": f"geometry tip {EVERY_THREAD} acme buttress whitworth ba wires_rounded_crests wires_unlike_flanks",
    "functional.py": "functional by_other_means call",
    "gauge_study.py": "gauge_study by_other_means published_files call",
    "gears.py": "lathe by_other_means lathe_file call",
    "helix.py": "helix geometry acme wires_unlike_flanks call",
    "identify.py": "identify call",
    "inspection.py": "inspection edges by_other_means uncertainty call",
    "lathe.py": "lathe half_nuts by_other_means lathe_file call",
    "leads.py": "lathe half_nuts by_other_means lathe_file call",
    "limits.py": f"{INCH} acme buttress functional lathe pipe_threads",
    "passes.py": f"geometry edges tip {BY_OTHER_MEANS} call",
    "quantiles.py": "quantiles published_files inspection uncertainty gauge_study call",
    "records.py": "start designations edges call layers",
    "registry.py": "call command_line",
    "roots.py": "tip offered_ends every_thread geometry unj_mj",
    "sampling.py": "sampling published_files call",
    "sources.py": "call command_line",
    "tables.py": "published sampling",
    "terms.py": "call command_line",
    "uncertainty.py": "uncertainty call",
    "units.py": "by_other_means designations call lathe inspection",
    "wire_fit.py": f"wires_rounded_crests wires_unlike_flanks {EVERY_THREAD}",
    "wires.py": f"helix wires_rounded_crests wires_unlike_flanks acme {EVERY_THREAD} unj_mj whitworth ba uncertainty",
    "standards/__init__.py": f"designations {CALLOUTS} {EVERY_THREAD}",
    "tapers.py": "tapers geometry",
    **dict.fromkeys((f"standards/{name}.py" for name in ("unnamed", "unknown", "respelled", "metric_words")), CALLOUTS),
    "standards/metric_callouts.py": f"{CALLOUTS} designations edges {EVERY_THREAD} unj_mj",
    "standards/acme.py": f"acme edges printed_formulas {EVERY_THREAD}",
    "standards/ba.py": f"ba printed_formulas {EVERY_THREAD}",
    "standards/base.py": f"{EVERY_THREAD} acme whitworth ba buttress pipe_threads iso_trapezoidal unj_mj",
    "standards/buttress.py": f"buttress edges {EVERY_THREAD} wires_unlike_flanks",
    "standards/callouts.py": f"{CALLOUTS} whitworth ba {EVERY_THREAD} buttress acme pipe_threads",
    "standards/iso_metric.py": f"{CALLOUTS} {EVERY_THREAD} unj_mj functional",
    "standards/iso_trapezoidal.py": f"iso_trapezoidal {EVERY_THREAD}",
    "standards/mj.py": f"unj_mj {EVERY_THREAD}",
    "standards/npsm.py": PIPE,
    "standards/origins.py": "origins",
    "standards/npt.py": PIPE,
    "standards/pipe_parallel.py": PIPE,
    "standards/pipe_rp.py": PIPE,
    "standards/pipe_taper_iso.py": PIPE,
    "standards/r40.py": "tables_by_other_means iso_trapezoidal published",
    "standards/stub_acme.py": f"acme printed_formulas {EVERY_THREAD}",
    "standards/taper.py": PIPE,
    "standards/unified.py": f"{CALLOUTS} {INCH} functional edges",
    "standards/unified_callouts.py": f"{CALLOUTS} designations edges {INCH}",
    "standards/unj.py": f"unj_mj {EVERY_THREAD}",
    "standards/whitworth.py": f"whitworth printed_formulas {EVERY_THREAD}",
}
"""The tests that concern a module, the nearest first; fast ones, none with an office.

A module that is not here has the test of its own name.
"""
READ_BY = {
    "acme_pitch_allowances": "acme",
    "acme_sizes": "acme",
    "average_range": "gauge_study",
    "ba_sizes": "ba",
    "buttress_sizes": "buttress",
    "iso_228_1": "pipe_parallel",
    "iso_7_1": "pipe_taper_iso",
    "mj_bolts": "mj",
    "npsm_limits": "npsm",
    "npt_sizes": "npt",
    "origins": "origins",
    "thermal_expansion": "inspection",
    "unified_series": "unified",
    "whitworth_sizes": "whitworth",
}
"""The module that reads a table, where its name doesn't begin with the module's."""

TURNED = {
    ast.Lt: ("<", "<=", ">"),
    ast.LtE: ("<=", "<", ">="),
    ast.Gt: (">", ">=", "<"),
    ast.GtE: (">=", ">", "<="),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.In: (" in", " not in"),
    ast.NotIn: ("not in", "in"),
    ast.Is: (" is", " is not"),
    ast.IsNot: ("is not", "is"),
}
SWAPPED = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.Pow: ("**", "*"),
    ast.FloorDiv: ("//", "/"),
    ast.Mod: ("%", "*"),
    ast.And: ("and", "or"),
    ast.Or: ("or", "and"),
}
OTHER_END = {"min": "max", "max": "min"}
SAME_EITHER_WAY = {"min", "max", "gcd", "times", "isinstance", "getattr", "zip"}
"""Calls whose arguments are not swapped: it makes no difference, or none that a figure shows."""
PROVENANCE = {
    *("confirmed", "TD1_confirmed", "trust", "source", "note"),
    *("figures", "place", "seen", "memory", "confirm"),  # sentences of origins.csv
}
"""Columns that say where a row is from, in words: there is no figure in them to be wrong."""


class Fault(NamedTuple):
    """One change of one file: the bytes from `start` to `end` become `new`."""

    file: str
    line: int
    kind: str
    start: int
    end: int
    new: str

    def planted(self, source: bytes) -> bytes:
        return source[: self.start] + self.new.encode() + source[self.end :]


def faults_of(root: Path, file: str) -> list[Fault]:
    """Every fault that can be planted in a file, by its place in the file."""
    source = (root / file).read_bytes()
    found = _in_table(file, source) if file.endswith(".csv") else _in_code(file, source)
    return sorted(set(found), key=lambda fault: (fault.start, fault.kind, fault.new))


def core_files(root: Path) -> list[str]:
    """The modules and tables of the core, without the hosts."""
    paths = [*(root / CORE).rglob("*.py"), *(root / TABLES).glob("*.csv")]
    names = sorted(path.relative_to(root).as_posix() for path in paths)
    return [name for name in names if not name.startswith(f"{CORE}/hosts/")]


def sample(root: Path, files: list[str], size: int, seed: int) -> list[Fault]:
    """A sample that gives every file a share by the root of what it offers: tables are long, and rows are alike.

    Each file has its own run of chance, so that a change of one leaves the faults of the others as they were.
    """
    offered = {file: faults_of(root, file) for file in files}
    weights = {file: len(faults) ** 0.5 for file, faults in offered.items()}
    total = sum(weights.values()) or 1.0
    chosen: list[Fault] = []
    for file, faults in offered.items():
        chance = random.Random(f"{seed} {file}")
        share = size * weights[file] / total
        count = int(share) + (chance.random() < share % 1)
        chosen += chance.sample(faults, min(count, len(faults)))
    return chosen


def _last_digit(number: str) -> str | None:
    """The number with its last digit one higher (9 becomes 8): 1.25 gives 1.26, 3e-9 gives 4e-9."""
    mantissa, mark, exponent = number.partition("e")
    if not mantissa or not mantissa[-1].isdigit():
        return None
    digit = int(mantissa[-1])
    return f"{mantissa[:-1]}{8 if digit == 9 else digit + 1}{mark}{exponent}"


def _in_table(file: str, source: bytes) -> Iterator[Fault]:
    """Faults of the cells: a digit, two cells of a row, two cells of a column."""
    header: list[str] = []
    above: dict[int, tuple[int, int, str]] = {}
    place = 0
    for line, raw in enumerate(source.decode().splitlines(keepends=True), 1):
        start, text = place, raw.rstrip("\n")
        place += len(raw.encode())
        if not text or text.startswith("#"):
            continue
        if not header:
            header = text.split(",")
            continue
        row: dict[int, tuple[int, int, str]] = {}
        for column, cell in enumerate(text.split(",")):
            row[column] = (start, start + len(cell.encode()), cell)
            start = row[column][1] + 1
        for column, (begin, end, cell) in row.items():
            if header[column] in PROVENANCE:
                continue
            wrong = _last_digit(cell) if cell.replace(".", "").replace("-", "").isdigit() else None
            if wrong:
                yield Fault(file, line, "digit of a cell", begin, end, wrong)
            for kind, other in (("cells of a row", row.get(column - 1)), ("cells of a column", above.get(column))):
                if other and other[2] != cell and header[column - (kind == "cells of a row")] not in PROVENANCE:
                    between = source[other[1] : begin].decode()
                    yield Fault(file, line, f"two {kind} swapped", other[0], end, cell + between + other[2])
        above = row


def _in_code(file: str, source: bytes) -> Iterator[Fault]:
    """Faults of the syntax tree, by the places of its nodes."""
    starts = [0]
    for raw in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(raw))

    def span(node: ast.AST) -> tuple[int, int]:
        return starts[node.lineno - 1] + node.col_offset, starts[node.end_lineno - 1] + node.end_col_offset

    def text(node: ast.AST) -> str:
        return source[slice(*span(node))].decode()

    def between(kind: str, left: ast.AST, right: ast.AST, old: str, new: str) -> Iterator[Fault]:
        begin, end = span(left)[1], span(right)[0]
        gap = source[begin:end].decode()
        if old in gap:
            yield Fault(file, left.end_lineno, kind, begin, end, gap.replace(old, new, 1))

    for node in _figures(ast.parse(source)):
        if isinstance(node, ast.Compare):
            for left, operator, right in zip([node.left, *node.comparators], node.ops, node.comparators):
                old, *others = TURNED[type(operator)]
                for new in others:
                    yield from between("comparison", left, right, old, new)
        elif isinstance(node, ast.BinOp) and not (_is_text(node.left) or _is_text(node.right)):
            if type(node.op) in SWAPPED:
                yield from between("operator", node.left, node.right, *SWAPPED[type(node.op)])
            if isinstance(node.op, (ast.Add, ast.Sub, ast.Mult)):
                yield Fault(file, node.lineno, "dropped term", *span(node), f"({text(node.left)})")
            if isinstance(node.op, (ast.Add, ast.Mult)):
                yield Fault(file, node.lineno, "dropped term", *span(node), f"({text(node.right)})")
        elif isinstance(node, ast.AugAssign) and isinstance(node.op, (ast.Add, ast.Sub)):
            yield from between("operator", node.target, node.value, *SWAPPED[type(node.op)])
        elif isinstance(node, ast.BoolOp):
            for left, right in zip(node.values, node.values[1:]):
                yield from between("operator", left, right, *SWAPPED[type(node.op)])
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.USub, ast.Not)):
            yield Fault(file, node.lineno, "dropped sign", *span(node), f"({text(node.operand)})")
        elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
            yield Fault(file, node.lineno, "truth", *span(node), str(not node.value))
        elif isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
            wrong = _last_digit(text(node))
            if wrong:
                yield Fault(file, node.lineno, "digit", *span(node), wrong)
        elif isinstance(node, ast.Call) and isinstance(node.func, (ast.Name, ast.Attribute)):
            name = node.func.id if isinstance(node.func, ast.Name) else node.func.attr
            if name in OTHER_END:
                yield Fault(file, node.lineno, "min for max", *span(node.func), OTHER_END[name])
            if len(node.args) > 1 and name not in SAME_EITHER_WAY and not _is_module(node.func, "re"):
                (first, second), (begin, end) = node.args[:2], (span(node.args[0])[0], span(node.args[1])[1])
                gap = source[span(first)[1] : span(second)[0]].decode()
                if text(first) != text(second) and not any(map(_is_text, node.args)):
                    yield Fault(file, node.lineno, "swapped arguments", begin, end, text(second) + gap + text(first))


def _figures(tree: ast.AST) -> Iterator[ast.AST]:
    """The nodes that make figures: no text, no annotations, no sentence of an error, no size of a cache."""
    if isinstance(tree, (ast.Raise, ast.JoinedStr)):
        return
    yield tree
    for name, value in ast.iter_fields(tree):
        if name in ("annotation", "returns", "decorator_list"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.keyword) and child.arg == "maxsize":
                continue
            if isinstance(child, ast.AST):
                yield from _figures(child)


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _is_module(function: ast.expr, module: str) -> bool:
    return isinstance(function, ast.Attribute) and isinstance(function.value, ast.Name) and function.value.id == module


def tests_of(file: str) -> list[str]:
    """The test files that concern a file of the core, without doubles."""
    name = file.removeprefix(f"{CORE}/")
    if file.endswith(".csv"):
        stem = Path(file).stem
        readers = [READ_BY.get(stem, "")] + [m for m in ("sampling", "iso_trapezoidal", "iso_metric") if m in stem]
        readers += ["iso_metric"]
        reader = next(f"{module}.py" for module in readers if module)
        name = reader if reader in TESTS else f"standards/{reader}"
    tests = TESTS.get(name, Path(name).stem)
    return [f"tests/test_{test}.py" for test in dict.fromkeys(tests.split())]


def copied(root: Path, folder: Path) -> Path:
    """A copy of what the tests need."""
    tree = folder / "tree"
    for name in COPIED:
        there = root / name
        if there.is_dir():
            shutil.copytree(there, tree / name, ignore=shutil.ignore_patterns("node_modules", "pictures", ".*"))
        elif there.exists():
            tree.mkdir(exist_ok=True)
            shutil.copy2(there, tree / name)
    return tree


def verdict(tree: Path, tests: list[str], module: str = "") -> str:
    """What the tests say of the tree as it is: "survives", "tests", "examples" or "no end".

    A forked child runs pytest in itself: what is slow to load is loaded here, once. `module` is a module whose
    docstring examples are run when the tests have let the fault through.
    """
    child = os.fork()
    if child == 0:
        signal.setitimer(signal.ITIMER_PROF, PATIENCE_S)
        os._exit(_run(tree, tests, module))
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return "no end"
    return {0: "survives", 2: "examples"}.get(os.WEXITSTATUS(status), "tests")


def _run(tree: Path, tests: list[str], module: str) -> int:
    try:
        os.chdir(tree)
        sys.path[:] = [str(tree), *(place for place in sys.path if not place.startswith(str(ROOT / "tests")))]
        said = os.open(tree.parent / SAID, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(said, 1)
        os.dup2(said, 2)
        import pytest

        options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "--hypothesis-seed=0", f"--rootdir={tree}"]
        options += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]  # hypothesis is loaded already
        for some in (tests[:1], tests[1:]):  # most faults are seen by the nearest
            if some and pytest.main([*options, *some]) != pytest.ExitCode.OK:
                return 1
        if module and pytest.main([*options, module]) not in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED):
            return 2
        return 0
    except BaseException:  # whatever a fault may bring about
        return 1


def judged(tree: Path, fault: Fault) -> str:
    """Plants a fault in the copy, runs the tests that concern it, and takes it out again."""
    path = tree / fault.file
    sound, times = path.read_bytes(), path.stat()
    try:
        path.write_bytes(fault.planted(sound))
        return verdict(tree, tests_of(fault.file), fault.file if fault.file.endswith(".py") else "")
    finally:
        path.write_bytes(sound)
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))


def shown(root: Path, fault: Fault) -> str:
    """Where the fault is, with the lines before and after."""
    source = (root / fault.file).read_bytes()
    before, after = source.decode().splitlines(), fault.planted(source).decode().splitlines()
    changed = [n for n, (old, new) in enumerate(zip(before, after)) if old != new] if len(before) == len(after) else []
    pairs = [f"    - {before[n].strip()}\n    + {after[n].strip()}" for n in changed or [fault.line - 1]]
    return "\n".join([f"{fault.file}:{(changed or [fault.line - 1])[0] + 1}: {fault.kind}", *pairs])


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sample", type=int, default=300, help="how many faults (0: all)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--module", action="append", help="a module or table; may be repeated")
    parser.add_argument("--list", action="store_true", help="list the faults, plant none")
    parser.add_argument("--root", type=Path, default=ROOT, help=argparse.SUPPRESS)
    asked = parser.parse_args(arguments)
    files = asked.module or core_files(asked.root)
    if asked.sample:
        faults = sample(asked.root, files, asked.sample, asked.seed)
    else:
        faults = [fault for file in files for fault in faults_of(asked.root, file)]
    if asked.list:
        print("\n".join(shown(asked.root, fault) for fault in faults))
        print(f"{len(faults)} faults")
        return 0
    for name in WARM:
        importlib.import_module(name)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = f"{folder}/hypothesis"
        tree = copied(asked.root, Path(folder))
        if verdict(tree, sorted({test for fault in faults for test in tests_of(fault.file)})) != "survives":
            print((tree.parent / SAID).read_text())
            print("the tests fail without a fault")
            return 2
        sys.dont_write_bytecode = True  # a stale one would hide a fault
        verdicts: Counter[str] = Counter()
        for fault in faults:
            found = judged(tree, fault)
            verdicts[found] += 1
            if found in ("survives", "examples"):
                note = "" if found == "survives" else " (seen by a docstring's example alone)"
                print(shown(asked.root, fault).replace("\n", f"{note}\n", 1), flush=True)
    survivors = verdicts["survives"]
    print(f"{len(faults) - survivors} of {len(faults)} noticed, {verdicts['examples']} of them by docstrings alone")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main())
