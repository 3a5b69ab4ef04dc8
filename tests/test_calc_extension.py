"""The parts of the Calc extension, without an office: type library, XML, package, and the crossing of values."""

from __future__ import annotations

import ast
import json
import struct
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

import sheetfuncs
from sheetfuncs import CellError
from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.calc import runtime
from sheetfuncs.hosts.calc.functions import functions
from sheetfuncs.hosts.calc.pack import OWN_NAME, build
from sheetfuncs.hosts.calc.typelib import Method, type_library
from sheetfuncs.terms import TERMS, ZERO_FOR_NONE

SAMPLE = Path(__file__).parent / "calc" / "sample.rdb"
SAMPLE_COMMENT = "** Created by LibreOffice 7.4.7.2 unoidl-write **"
SAMPLE_METHODS = [
    Method("pitch", "[][]any", (("thread", "any"), ("unit", "any"))),
    Method("leadAngle", "[][]any", (("thread", "any"),)),
    Method("why", "any", (("name", "any"), ("arguments", "[]any"))),
    Method("plain", "double", (("number", "double"), ("text", "string"), ("count", "long"))),
    Method("empty", "string", ()),
]
NODE = "{http://openoffice.org/2001/registry}"
NEWER_THAN_3_8 = {"removeprefix", "removesuffix", "pairwise", "bit_count", "cache", "lcm"}


@pytest.fixture(scope="module")
def extension(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build(tmp_path_factory.mktemp("extension") / "threads.oxt")


@pytest.fixture(scope="module")
def packed(extension: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(extension) as parts:
        return {name: parts.read(name) for name in parts.namelist()}


def test_type_library_is_what_the_sdk_writes() -> None:
    assert type_library("org.sheetfuncs.XSample", SAMPLE_METHODS, SAMPLE_COMMENT) == SAMPLE.read_bytes()


def test_same_bytes_each_time(extension: Path, tmp_path: Path) -> None:
    assert build(tmp_path / "again.oxt").read_bytes() == extension.read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["again.oxt"]


def test_manifest_lists_what_is_there(packed: dict[str, bytes]) -> None:
    entries = [dict(entry.items()) for entry in ElementTree.fromstring(packed["META-INF/manifest.xml"])]
    paths = [value for entry in entries for key, value in entry.items() if key.endswith("full-path")]
    assert set(paths) <= set(packed)
    assert paths.index("functions.rdb") < paths.index("component.py")


def test_configuration_has_every_function_and_argument(packed: dict[str, bytes]) -> None:
    tree = ElementTree.fromstring(packed["CalcAddIns.xcu"])
    nodes = tree.findall(f".//node[@{NODE}name='AddInFunctions']/node")
    for node, function in zip(nodes, functions(), strict=True):
        assert node.get(f"{NODE}name") == function.method
        texts = {prop.get(f"{NODE}name"): prop.findtext("value") for prop in node.findall("prop")}
        assert (texts["DisplayName"], texts["CompatibilityName"]) == (function.name, function.name)
        assert texts["Description"] == function.help
        arguments = node.findall("node/node")
        assert [node.get(f"{NODE}name") for node in arguments] == sorted(node.get(f"{NODE}name") for node in arguments)
        shown = [tuple(prop.findtext("value") for prop in argument.findall("prop")) for argument in arguments]
        assert shown == [argument[:2] for argument in function.arguments]


def test_every_record_has_its_function() -> None:
    listed = functions()
    assert [function.name for function in listed] == [*(record.name for record in RECORDS), "THREAD_WHY"]
    assert len({function.method.lower() for function in listed}) == len(listed)
    for function in listed:
        assert function.help
        for argument in function.arguments:
            assert 0 < len(argument.help) <= 255 + len(" May be left out.")


def test_only_what_calc_needs_is_inside(packed: dict[str, bytes]) -> None:
    names = [name for name in packed if name.startswith("pythonpath/")]
    assert all(name.startswith(f"pythonpath/{OWN_NAME}/") for name in names)
    for unwanted in ("excel", "__main__", "__pycache__", "pack.py", "pint"):
        assert not [name for name in names if unwanted in name]


def test_own_name_is_used_everywhere(packed: dict[str, bytes]) -> None:
    for name, data in packed.items():
        for node in ast.walk(ast.parse(data)) if name.endswith(".py") else ():
            imported = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            imported += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not [module for module in imported if module.split(".")[0] == "sheetfuncs"], name


def test_nothing_newer_than_python_3_8(packed: dict[str, bytes]) -> None:
    """As far as the text shows it: grammar, and the newer names and operators that are easy to take for old."""
    for name, data in packed.items():
        for node in ast.walk(ast.parse(data, feature_version=(3, 8))) if name.endswith(".py") else ():
            used = {node.attr} if isinstance(node, ast.Attribute) else set()
            used |= {alias.name for alias in node.names} if isinstance(node, ast.ImportFrom) else set()
            assert used.isdisjoint(NEWER_THAN_3_8), f"{name}:{node.lineno} {used}"
            merged = isinstance(node, ast.AugAssign) and isinstance(node.op, ast.BitOr)
            assert not merged, f"{name}:{node.lineno} |= on a dictionary is of Python 3.9"


def test_it_runs_from_its_own_copy(extension: Path, tmp_path: Path) -> None:
    """In a Python without this project and without pint, as in LibreOffice."""
    with zipfile.ZipFile(extension) as parts:
        parts.extractall(tmp_path)
    script = (
        "import sys; sys.path.insert(0, 'pythonpath')\n"
        f"from {OWN_NAME}.hosts.calc.runtime import rows, single, why\n"
        "print(rows('THREAD_PITCH', ('M20-6g', 0.0)), single('THREAD_DESCRIBE', ('M20-6g',))[:5])\n"
        "print(why('THREAD_WIRE_CONSTANT', ('M20-6g', '1 furlong')))\n"
        "print(sorted(name for name in sys.modules if name.split('.')[0] in ('sheetfuncs', 'pint')))\n"
    )
    done = subprocess.run([sys.executable, "-I", "-S", "-c", script], cwd=tmp_path, capture_output=True, text=True)
    assert done.stdout.splitlines() == [
        "((2.5,),) M20x2",
        "wire has the unit 'furlong'; use in, mm, thou or micron",
        "[]",
    ], done.stderr


def error_number(value: float) -> int:
    assert value != value
    return struct.unpack("<Q", struct.pack("<d", value))[0] & 0xFFFFFFFF


@pytest.mark.parametrize(
    ("name", "cells", "number", "words"),
    [
        ("THREAD_PITCH", ("nonsense",), 519, "is no thread this knows"),
        ("THREAD_PITCH_DIAMETER", ("M20x2.5", "max"), 32767, "has no class"),
        ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0.02, "max"), 503, "too small"),
        ("THREAD_COMPOUND", (0.1,), 32767, "angle is missing"),
        ("THREAD_PITCH", (), 32767, "thread is missing"),
        ("THREAD_OVER_WIRES", ("M20-6g", ((1.4,), (1.5,)), (("max",),) * 3), 519, "ranges of different shapes"),
        ("THREAD_NOSUCH", ("M20-6g",), 519, "there is no function THREAD_NOSUCH"),
    ],
)
def test_errors_carry_their_number_and_sentence(name: str, cells: tuple, number: int, words: str) -> None:
    assert error_number(runtime.rows(name, cells)[0][0]) == number
    assert words in runtime.why(name, cells)


def test_zero_is_an_empty_cell_where_zero_is_no_value() -> None:
    assert runtime.rows("THREAD_PITCH", (0.0,)) == (("",),)
    assert runtime.rows("THREAD_PITCH", ("M20-6g", 0.0)) == ((2.5,),)
    assert runtime.rows("THREAD_DEPTH", ("M20-6g", 0.0, "mid")) == (("",),)  # no sharp tool
    left_out = sheetfuncs.evaluate("THREAD_DEPTH", "M20-6g", "sharp", "mid")
    assert runtime.rows("THREAD_DEPTH", ("M20-6g", "sharp", "mid", 0.0)) == ((left_out,),)
    assert runtime.rows("THREAD_COMPOUND", (0.0, 0.0)) == ((0.0,),)
    inside = runtime.rows("THREAD_PITCH", ((("",), (0.0,)),))
    assert inside[0] == ("",)
    assert error_number(inside[1][0]) == 519  # a 0 that stands in a range is known to be one


def test_zero_is_taken_where_the_help_says_that_it_stands_for_none() -> None:
    """10 pieces of 2 from bars of 20, nothing faced, parted or scrapped, no stub: one bar.

    The price by hand: 10 minutes to set up and 10 x (5 + 1) at 60 an hour, and one bar of 50.
    """
    for term in ZERO_FOR_NONE:
        assert TERMS[term].help.partition("; ")[2].startswith("0 ")
    (stock,) = runtime.rows("THREAD_STOCK", (10.0, 2.0, 0.0, 0.0, 20.0, 0.0, 0.0))
    assert stock[:3] == (10.0, 10.0, 1.0)  # to make, pieces a bar, bars
    price = (10.0, 10.0, 5.0, 1.0, 60.0, 50.0, 10.0, 0.0, 0.0, "0 %")
    heads, answers = runtime.rows("THREAD_PRICE", price)
    assert dict(zip(heads, answers))["price"] == 10 + 10 * (5 + 1) + 50
    assert runtime.rows("THREAD_PRICE", (*price[:4], 0.0, *price[5:])) == (("",),)  # a rate that is not filled in
    assert len(runtime.rows("THREAD_PRICE", (*price[:4], "0", *price[5:]))) == 2


@pytest.mark.parametrize("place", range(4))
def test_an_empty_source_of_uncertainty_is_not_known_to_be_nothing(place: int) -> None:
    """An empty cell comes as 0, and a U without one of its sources would accept too much: "0" as a text says it."""
    stated: list[object] = [0.0005, 0.003, 2.0, 0.001]
    for typed, blank in ((0.0, True), ("0", False)):
        stated[place] = typed
        found = runtime.rows("THREAD_UNCERTAINTY", ("M20x2.5-6g", 1.4434, *stated, 10.0))
        assert (found == (("",),)) == blank


@pytest.mark.parametrize("fault", [KeyError("size"), RecursionError("deep"), SystemExit("end"), KeyboardInterrupt()])
def test_a_fault_of_ours_is_called_one(monkeypatch: pytest.MonkeyPatch, fault: BaseException) -> None:
    def broken(*_: object) -> None:
        raise fault

    monkeypatch.setattr(runtime, "answer", broken)
    assert error_number(runtime.rows("THREAD_PITCH", ("M20-6g",))[0][0]) == 519
    sentence = runtime.why("THREAD_PITCH", ("M20-6g",))
    assert sentence.startswith("this is a fault in THREAD_PITCH, not in what you typed")
    assert type(fault).__name__ in sentence


@pytest.mark.parametrize("answer", [None, [[None]], [None], object()])
def test_an_answer_that_is_none_is_a_fault_too(monkeypatch: pytest.MonkeyPatch, answer: object) -> None:
    monkeypatch.setattr(runtime, "answer", lambda *_: answer)
    assert error_number(runtime.rows("THREAD_PITCH", ("M20-6g",))[0][0]) == 519
    assert runtime.why("THREAD_PITCH", ("M20-6g",)).startswith("this is a fault in THREAD_PITCH")


def test_described_functions_are_complete(packed: dict[str, bytes]) -> None:
    described = json.loads(packed["functions.json"])
    answers = {function["name"]: function["answers"] for function in described["functions"]}
    assert answers["THREAD_WHY"] == "why"
    assert answers["THREAD_DESCRIBE"] == "single"
    assert answers["THREAD_LIMITS"] == answers["THREAD_PITCH"] == "rows"


def test_a_text_answer_takes_a_range_for_its_first_argument_only() -> None:
    cells = ("M20-6g", (("8 tpi",), ("3 mm",)), 32, 8)
    assert error_number(runtime.single("THREAD_DIAL", cells)) == 519
    assert runtime.why("THREAD_DIAL", cells) == "leadscrew is a range; in THREAD_DIAL only thread may be one"
    assert runtime.why("THREAD_DIAL", ((("M20-6g",), ("?",)), "8 tpi", 32, 8)).startswith("row 2: '?' is no thread")


def test_the_sentence_of_a_column_names_its_row() -> None:
    column = (("M20-6g",), ("",), ("M20-6g",), ("x",))
    assert runtime.why("THREAD_PITCH", (column,)).startswith("row 4: 'x'")
    with pytest.raises(CellError, match="'x'"):
        sheetfuncs.evaluate("THREAD_PITCH", "x")
