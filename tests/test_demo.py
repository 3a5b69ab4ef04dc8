"""The filled example is one invented shop: one part, two workers, a lever chart that a gearbox could have."""

from __future__ import annotations

import re

import pytest

from workbook_template.demo import job as demo
from workbook_template.demo import lathe as demo_lathe

VALUES = demo.values()


def test_the_part_has_one_length_on_all_sheets() -> None:
    wanted, either_way = map(float, re.fullmatch(r"(\S+) \+/- (\S+)", VALUES["article_other_requirement"][0]).groups())
    assert VALUES["article_other"] == ["Overall length"]
    assert wanted == VALUES["estimate_part_length"]
    low, high = VALUES["article_other_low"][0], VALUES["article_other_high"][0]
    assert (low, high) == (pytest.approx(wanted - either_way), pytest.approx(wanted + either_way))
    assert low < VALUES["article_measured"][-1] < high


def test_the_workers_are_turner_and_inspector() -> None:
    named = {VALUES[name] for name in ("made_by", "article_who", "certificate_inspector")} | set(VALUES["log_who"])
    assert named - {None} == {"turner", "inspector"}


def test_the_lever_chart_is_that_of_one_gearbox() -> None:
    """Seven gears behind three ranges, each twice as slow as the one before; the feed is one part of the lead."""
    gearbox, no_gearbox = demo_lathe.lathes()
    assert (len(gearbox.chart), no_gearbox.chart) == (21, ())
    low, middle, high = (gearbox.chart[at : at + 7] for at in (0, 7, 14))
    for one, two, three in zip(low, middle, high):
        assert (two.cuts, three.cuts) == (2 * one.cuts, 4 * one.cuts)
        assert [position.levers[1:] for position in (one, two, three)] == [one.levers[1:]] * 3
    for position in gearbox.chart:
        assert position.feed == pytest.approx(0.114 / position.cuts, abs=0.00005 + 1e-9)
