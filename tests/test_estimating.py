"""Minutes, bars and prices against worked examples, counting one by one, and the algebra of margins."""

from __future__ import annotations

from math import ceil, isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetfuncs import CellError, evaluate, standards
from sheetfuncs.estimating import Bar, hand_share, pieces_to_make, price, stock, time


def test_the_worked_times() -> None:
    """53 mm of travel at 2.5 mm and 160 rpm is 7.95 s; 16 passes."""
    thread = standards.read("M20x2.5-6g")
    one_way = time(thread, 45, 160, 1, 5, 3) * 60
    assert one_way == pytest.approx(7.95)
    assert time(thread, 45, 160, 16, 5, 3, 5, "yes") == pytest.approx(16 * (2 * 7.95 + 5) / 60)
    assert time(thread, 45, 160, 16, 5, 3, 4 + 2) == pytest.approx(16 * (7.95 + 6) / 60)


def test_each_start_needs_all_passes_at_its_longer_lead() -> None:
    one, two = standards.read("M20x2.5-6g"), standards.read("M20xPh5P2.5-6g")
    assert time(two, 45, 160, 16) == pytest.approx(2 * time(one, 45, 160, 16) / 2)
    assert time(two, 45, 160, 16, 0, 0, 6) == pytest.approx(time(one, 45, 160, 16) + 2 * 16 * 6 / 60)


def test_time_in_the_other_unit() -> None:
    in_mm = evaluate("THREAD_TIME", "3/4-16 UNF-2A", "31.75 mm", 160, 10, "5.08 mm")
    assert in_mm == pytest.approx(evaluate("THREAD_TIME", "3/4-16 UNF-2A", 1.25, 160, 10, 0.2))


@given(st.integers(1, 500), st.integers(0, 60))
def test_scrap_by_counting(quantity: int, percent: int) -> None:
    """The smallest number whose good share reaches the quantity, in whole numbers."""
    make = quantity
    while make * (100 - percent) < quantity * 100:
        make += 1
    assert pieces_to_make(quantity, percent / 100) == make


@given(st.integers(1, 300), st.integers(200, 4000), st.integers(0, 90), st.integers(0, 300))
def test_bars_by_cutting_them_one_piece_at_a_time(quantity: int, part: int, off: int, stub: int) -> None:
    """Lengths in thousandths, a bar of 12,000: cut until it no longer reaches."""
    each, bars, left = part + off, 0, -1
    for _ in range(quantity):
        if left < each:
            bars, left = bars + 1, 12000 - stub
        left -= each
    found = stock(quantity, part / 1000, 0, off / 1000, 12.0, stub / 1000, 0)[0]
    assert (found[0], found[2]) == (quantity, bars)
    assert found[5] == pytest.approx(left / 1000, abs=1e-9)


@given(st.integers(1, 40), st.integers(1, 4000), st.integers(0, 90), st.integers(0, 300))
def test_nothing_is_left_of_a_bar_that_its_pieces_use_up(pieces: int, part: int, off: int, stub: int) -> None:
    """A bar that is just so long, in thousandths: 0 is left, not what binary numbers leave of it."""
    bar = pieces * (part + off) + stub
    found = evaluate("THREAD_STOCK", pieces, part / 1000, 0, off / 1000, bar / 1000, stub / 1000, 0)[0]
    assert found[1:4] == [pieces, 1, pieces]
    assert found[5] == 0


def test_what_is_left_is_0_or_more() -> None:
    """By hand: ten pieces of 0.1 and 0.2 are 3; of a bar of 3.001 a thousandth is left."""
    assert evaluate("THREAD_STOCK", 10, 0.1, 0, 0.2, 3, 0, 0)[0][5] == 0
    assert evaluate("THREAD_STOCK", 10, 0.1, 0, 0.2, 3.001, 0, 0)[0][5] == pytest.approx(0.001)
    assert evaluate("THREAD_STOCK", 10, 0.1, 0, 0.2, 3.00001, 0, 0)[0][5] == pytest.approx(0.00001)


def test_the_worked_bars() -> None:
    make, per_bar, bars, on_last, *_ = stock(60, 2.125, 0.030, 0.125, 144, 3.5, 0.05)[0]
    assert (make, per_bar, bars, on_last) == (64, 61, 2, 3)
    assert stock(57, 2.125, 0.030, 0.125, 144, 3.5, 0.05)[0][2] == 1


def test_hexagons() -> None:
    """Machinery's Handbook: across corners 1.1547 across flats, area 0.866 across flats squared."""
    assert evaluate("THREAD_BAR", 1.25, "hexagon", "1.375 1.5", "1.25")[1][:2] == ["hexagon", 1.25]
    assert evaluate("THREAD_BAR", 1.25, "hexagon", "1.375 1.5", "1.125")[1][:2] == ["round", 1.5]
    assert evaluate("THREAD_BAR", 1.25, "round", "1.5", "1.25")[1][2] == pytest.approx(1.1547 * 1.25, abs=1e-4)
    assert Bar("hexagon", 2.0).area == pytest.approx(0.866 * 4, abs=2e-3)


def test_wrights_rule() -> None:
    """An 80 per cent curve by its meaning, 80 per cent at each doubling: 100, 80, 64, 51.2 at 1, 2, 4, 8."""
    assert [round(100 * hand_share(n, 0.8), 1) for n in (1, 2, 4, 8)] == [100, 80, 64, 51.2]


def test_learning_touches_hand_time_alone() -> None:
    plain = price([16], 60, 5, 3, 60, 10, 50, 0, 0, 0)[0]
    learned = price([16], 60, 5, 3, 60, 10, 50, 0, 0, 0, learning=0.9)[0]
    assert plain[2] - learned[2] == pytest.approx(16 * 3 * (1 - 0.9**4))


@given(st.floats(0, 0.9), st.integers(1, 400))
def test_margin_and_markup_are_told_apart(share: float, quantity: int) -> None:
    def of(**profit: float) -> tuple:
        return price([quantity], 30, 4, 2, 50, 20, 40, 0.03, 0.4, **profit)[0]

    by_margin, by_markup = of(margin=share), of(markup=share)
    cost, asked = by_margin[-3], by_margin[-2]
    assert isclose((asked - cost) / asked, share, abs_tol=1e-9)
    assert isclose((by_markup[-2] - cost) / cost, share, abs_tol=1e-9)
    assert isclose(of(markup=share / (1 - share))[-2], asked)


@given(st.lists(st.integers(1, 1000), min_size=2, max_size=2, unique=True))
def test_more_pieces_never_cost_less(quantities: list[int]) -> None:
    low, high = (row[-2] for row in price(sorted(quantities), 30, 4, 2, 50, 20, 40, 0.03, 0.4, 0.2))
    assert low <= high


def test_lines_by_hand() -> None:
    """60 good of 64: 90 + 64 x 10 minutes at 60 an hour; 2 bars of 50; half of labour; a fifth of the price."""
    row = evaluate("THREAD_PRICE", 60, 90, 6, 4, 60, 50, 61, "5 %", "50 %", "20 %")[1]
    assert row[:3] == [60, ceil(60 / 0.95), 730]
    assert row[-3:] == pytest.approx([1195, 1195 / 0.8, 1195 / 0.8 / 60])


def test_a_share_gauges_whole_pieces_and_a_minimum_charge_is_the_least() -> None:
    """A fifth of 27 to make is 6 checks of 10 minutes, of 64 it is 13; every piece where nothing says which."""
    fixed = (0, 0, 0, 60, 0, 61, "4 %", 0, 0, None, 0, 0, 0, None, 0, 10)
    assert evaluate("THREAD_PRICE", 25, *fixed, None, "20 %")[1][2] == 60
    assert evaluate("THREAD_PRICE", 61, *fixed, None, 0.2)[1][1:3] == [64, 130]
    assert evaluate("THREAD_PRICE", 25, *fixed, None, 0)[1][2] == 0
    assert evaluate("THREAD_PRICE", 25, *fixed)[1][2] == evaluate("THREAD_PRICE", 25, *fixed, None, 1)[1][2] == 270
    assert [row[-2] for row in evaluate("THREAD_PRICE", "1 25", *fixed, None, 1, 100)[1:]] == [100, 270]
    with pytest.raises(CellError, match="every and gauged are both given"):
        evaluate("THREAD_PRICE", 25, *fixed, 10, 0.2)
    with pytest.raises(CellError, match="gauged is 20; write a share such as 20 %"):
        evaluate("THREAD_PRICE", 25, *fixed, None, 20)


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        (("60", 90, 6, 4, None, 50, 61, 0, 0, 0), ""),
        (("60", 90, 6, 4, 60, 50, 61, 0, 0), "give margin"),
        (("60", 90, 6, 4, 60, 50, 61, 0, 0, 0.1, 0.1), "give margin"),
        (("60", 90, 6, 4, 60, 50, 61, 5, 0, 0), "scrap is 5; write a share such as 5 % or 0.05"),
        (("60 2.5", 90, 6, 4, 60, 50, 61, 0, 0, 0), "quantities has 2.5"),
        (("60", 90, 6, 4, -1, 50, 61, 0, 0, 0), "rate is -1"),
        (("60", 90, 6, 4, 60, 50, 61, 0, 0, "100 %"), "margin is '100 %'"),
    ],
)
def test_what_is_missing_or_wrong_gets_a_sentence(cells: tuple, sentence: str) -> None:
    if not sentence:  # blank in, blank out
        assert evaluate("THREAD_PRICE", *cells) == ""
        return
    with pytest.raises(CellError, match=sentence):
        evaluate("THREAD_PRICE", *cells)


def test_a_bar_too_short_and_no_bar_large_enough() -> None:
    with pytest.raises(CellError, match="shorter than one piece"):
        evaluate("THREAD_STOCK", 10, 5, 0, 0.125, 6, 1, 0)
    with pytest.raises(CellError, match="no bar of the list makes a round of 2"):
        evaluate("THREAD_BAR", 2, "round", "1 1.5")
    assert evaluate("THREAD_BAR", 1e-10, "round", "0 1")[1][:2] == ["round", 1]  # a bar of nothing makes no part
