"""`certificate`: the data of a lot, with a digest that anybody can compute again and that is typed last."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from read_back_files import PITCH_RESULTS, Filled, canonical, changed_cell, edited, part, sheet_part, with_parts

from workbook_template import __main__ as command
from workbook_template.read_back import certificate_data

pytestmark = pytest.mark.usefixtures("short_table")


def test_the_certificate_has_the_k_that_u_was_made_with(tmp_path: Path, filled: Filled) -> None:
    """JCGM 100:2008, 7.2.3; one reading .0001 and nothing else, k of 8 degrees of freedom 2.37 (Table G.2)."""
    stated = {f"budget_{name}": (0, 0) for name in ("wires", "micrometer", "temperature", "lead", "angle")}
    stated |= {"budget_repeatability": (0, 0.0001), "budget_repeats": (0, 9)}
    path = tmp_path / "job.xlsx"
    for typed, uncertainty, k in (
        ({}, 0.000237, 2.37),
        ({"coverage_factor": 3}, 0.000237, 2.37),
        ({"budget_factor": 3}, 0.0003, 3),
        ({"expanded_uncertainty": 0.0005}, 0.0005, None),
        ({"expanded_uncertainty": 0.0005, "coverage_factor": 3}, 0.0005, 3),
        ({"expanded_uncertainty": 0.0005, "coverage_factor": 20}, 0.0005, None),
    ):
        path.write_bytes(edited(filled, **stated, **{name: (0, value) for name, value in typed.items()}))
        rule = certificate_data.certificate(path)["data"]["rule"]
        assert rule["uncertainty"] == pytest.approx(uncertainty, rel=2e-3)
        assert rule["coverage_factor"] == (k if k is None else pytest.approx(k, abs=0.005)), typed
    path.write_bytes(edited(filled, **stated, budget_factor=(0, 20)))  # a slip of 2.0: U would be ten times as much
    assert certificate_data.certificate(path)["data"]["rule"]["uncertainty"] is None


def test_a_certificate_has_a_digest_that_anybody_can_compute_again(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "cert.json"
    assert command.main(["certificate", str(filled.built), "-o", str(out)]) == 0
    digest = capsys.readouterr().out.splitlines()[-1].removeprefix("digest ")
    found = json.loads(out.read_text(encoding="utf-8"))
    assert found["digest"] == digest == hashlib.sha256(canonical(found["data"]).encode()).hexdigest()
    data = found["data"]
    assert data["limits"] == {"pitch_max": 0.7079, "pitch_min": 0.7029, "crest_max": 0.7485, "crest_min": 0.7391}
    assert data["counts"]["pitch"] == {word: PITCH_RESULTS.count(word) for word in dict.fromkeys(PITCH_RESULTS)}
    assert [one["id"] for one in data["wires"]] == ["W-12", "W-9"]
    assert {one["id"] for one in data["instruments"]} == {"M-7", "M-8", "T-2", "R-1", "M-99"}
    assert (data["rule"]["name"], data["unit"], data["thread"]) == ("simple", "in", "3/4-16 UNF-2A")
    other = tmp_path / "other.xlsx"
    other.write_bytes(edited(filled, log_reading=(0, 0.7597)))
    command.main(["certificate", str(other)])
    assert digest not in capsys.readouterr().out
    assert command.main(["certificate", str(filled.built), "-o", str(out)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert command.main(["certificate", str(filled.built), "-o", str(tmp_path / "cert.xlsx")]) == 2
    assert capsys.readouterr().err.endswith("cert.xlsx does not end in .json\n")
    assert not (tmp_path / "cert.xlsx").exists()


def test_saved_by_another_program_it_has_the_same_digest(
    filled: Filled, saved: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert filled.built.read_bytes() != saved.read_bytes()
    assert certified(saved, capsys)[:2] == certified(filled.built, capsys)[:2]


def test_the_coating_belongs_to_the_data(tmp_path: Path, filled: Filled) -> None:
    """Class 3A has no allowance to take up: coated or not, the limits are the same, but not what the paper says."""
    path, found = tmp_path / "job.xlsx", []
    for thickest in (None, 0.0003, 0.0004):
        coating = {} if thickest is None else {"thinnest_coating": (0, 0.0002), "thickest_coating": (0, thickest)}
        path.write_bytes(edited(filled, thread_class="3A", **coating))
        found.append(certificate_data.certificate(path))
    plain, *coated = (one["data"] for one in found)
    assert len({one["digest"] for one in found}) == 3
    assert [(one["thinnest_coating"], one["thickest_coating"]) for one in coated] == [
        (0.0002, 0.0003),
        (0.0002, 0.0004),
    ]
    assert {name for one in coated for name in one.keys() - plain.keys()} == {"thinnest_coating", "thickest_coating"}
    assert {name: coated[0][name] for name in plain} == plain  # an uncoated part has the digest that it always had


def certified(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    code = command.main(["certificate", str(path)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_digest_is_typed_last(tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]) -> None:
    """Names typed after it are not tampering: the command says so before, and when it has happened."""
    path = tmp_path / "job.xlsx"
    _, digest, said = certified(filled.built, capsys)
    assert said == "type the digest last: number, date, who inspected, who releases it are empty, and belong to it\n"
    three = {f"certificate_{name}": "somebody" for name in ("number", "inspector")} | {"certificate_date": (0, 46113)}
    path.write_bytes(edited(filled, **three))
    assert certified(path, capsys)[2] == "type the digest last: who releases it is empty, and belongs to it\n"
    path.write_bytes(edited(filled, certificate_digest=digest.split()[1]))
    assert certified(path, capsys)[:2] == (0, digest)
    names = {f"certificate_{name}": "somebody" for name in ("number", "inspector", "released")}
    names |= {"certificate_date": (0, 46113)}
    path.write_bytes(edited(filled, certificate_digest=digest.split()[1], **names))
    code, out, said = certified(path, capsys)
    assert (code, said) == (1, "")
    assert ": a field of the certificate was typed after it, as the digest comes last, or it was mistyped" in out
    path.write_bytes(edited(filled, certificate_digest=" "))
    assert certified(path, capsys)[:2] == (0, digest)


def test_a_workbook_in_which_nothing_is_logged_has_no_certificate(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "empty.xlsx"
    command.main(["new", str(path)])
    capsys.readouterr()
    sentence = "certifies nothing yet: choose the thread on the sheet Job, then log the parts on the sheet Log"
    assert certified(path, capsys) == (2, "", f"{path} {sentence}\n")


def test_of_two_wire_sets_with_one_number_the_first_is_on_the_certificate(tmp_path: Path, filled: Filled) -> None:
    """The second row is .0363 thick: nothing was measured with it."""
    path = tmp_path / "job.xlsx"
    content = edited(filled, wires_id=(0, 12), log_wires=(0, 12))
    sheet = sheet_part(filled, "Wire sets")
    xml = changed_cell(filled, part(content, sheet).decode(), "wires_id", "<v>12</v>", at=1)
    path.write_bytes(with_parts(content, {sheet: xml.encode()}))
    wires = certificate_data.certificate(path)["data"]["wires"]
    assert [(one["id"], one["mean"]) for one in wires if one["id"] == 12] == [(12, pytest.approx(0.0361))]
