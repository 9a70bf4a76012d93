"""The base: reading it, what is in the way of a driver, and the pages that it takes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.delivery.fixings import (
    MARGIN_MM,
    OVERLAP_MM,
    Base,
    Bolt,
    Leg,
    read_bolts,
    read_legs,
    spans_mm,
    tiled,
    troubles,
)
from jobs.delivery.papers import PAPERS
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term

DRIVER = Term("driver", 2.75, "", "given")
EDGE = Term("edge", 1.5, "", "given")
FOUR = read_bolts("150 100 16\n-150 100 16\n-150 -100 16\n150 -100 16")


def base(length: float = 400, width: float = 300, bolts: tuple[Bolt, ...] = FOUR, legs: tuple[Leg, ...] = ()) -> Base:
    return Base(length, width, bolts, legs)


def test_lines_are_read_as_people_type_them() -> None:
    assert read_bolts("  150 -100 16\n\n-12,5; 0; 12\n") == (Bolt(150, -100, 16), Bolt(-12.5, 0, 12))
    assert read_bolts("−5 0 8")[0].x_mm == -5
    assert read_legs("120 0 60 15 -90") == (Leg(120, 0, 60, 15, -90),)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("150 100", "Line 1 is '150 100'; write 3 numbers"),
        ("1 2 16\n1 2 x", "Line 2"),
        ("1 2 nan", "Line 1"),
        ("1 2 3", "Bolt is 3 mm"),
        ("6000 0 16", "x of a bolt is 6000 mm"),
    ],
)
def test_a_line_that_is_no_bolt_is_refused_by_its_number(typed: str, said: str) -> None:
    with pytest.raises(EstimatorError, match=said):
        read_bolts(typed)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda: base(bolts=()), "Bolt is missing"),
        (lambda: base(length=200), "Bolt 1 at 150 100 lies off the plate"),
        (lambda: base(length=10), "Length of the plate"),
        (lambda: base(width=20_000), "Width of the plate"),
        (lambda: base(bolts=FOUR * 11), "Bolts is 44"),
        (lambda: read_legs("0 0 60 81 0"), "Lean of a leg"),
        (lambda: read_legs("0 0 2 0 0"), "Leg is 2 mm"),
        (lambda: tiled(base(9000, 9000, (Bolt(0, 0, 16),)), PAPERS["a4"]), "Choose larger paper"),
    ],
)
def test_a_base_that_cannot_be_is_refused(wrong: object, said: str) -> None:
    with pytest.raises(EstimatorError, match=said):
        wrong()  # type: ignore[operator]


def test_a_bolt_that_no_driver_reaches_is_named() -> None:
    assert troubles(base(), DRIVER, EDGE) == ()
    # 22 mm of driver round an M16; the leg's face is 20 mm away.
    found = troubles(base(legs=(Leg(100, 100, 60, 10, 0),)), DRIVER, EDGE)
    assert [(each.bolt, each.text) for each in found] == [(1, "Bolt 1 has 20 mm to leg 1; a driver wants 22 mm.")]
    close = base(bolts=(Bolt(0, 0, 16), Bolt(30, 0, 16)))
    assert "Bolts 1 and 2 are 30 mm apart" in troubles(close, DRIVER, EDGE)[0].text
    edge = base(bolts=(Bolt(190, 0, 16),))
    assert troubles(edge, DRIVER, EDGE)[0].text == "Bolt 1 is 10 mm from the edge; 24 mm are usual."


@given(st.floats(30, 2500), st.floats(30, 2500), st.sampled_from(["a4", "a3", "letter"]))
def test_the_pages_cover_the_base_and_overlap(length: float, width: float, paper: str) -> None:
    try:
        tiling = tiled(base(length, width, (Bolt(0, 0, 16),)), PAPERS[paper])
    except EstimatorError:
        # Only a base that takes more than sixty pages is refused.
        assert length * width > 40 * 190 * 240
        return
    assert len({tile.name for tile in tiling.tiles}) == len(tiling.tiles) == tiling.columns * tiling.rows
    first, last = tiling.tiles[0], tiling.tiles[-1]
    assert first.left_mm <= -length / 2
    assert last.left_mm + tiling.wide_mm >= length / 2
    assert first.top_mm >= width / 2
    assert last.top_mm - tiling.high_mm <= -width / 2
    for tile in tiling.tiles[1 : tiling.columns]:
        assert tile.left_mm - first.left_mm == pytest.approx(tile.column * (tiling.wide_mm - OVERLAP_MM))
    assert tiling.wide_mm + 2 * MARGIN_MM == PAPERS[paper].width_mm


def test_no_bolt_lies_across_a_seam_where_there_is_room_to_shift_the_pages() -> None:
    # On two pages across, the middle of the plate would be their seam.
    tiling = tiled(base(300, 200, (Bolt(0, 0, 16), Bolt(0, 60, 16))), PAPERS["a4"])
    assert tiling.columns == 2
    assert any(tile.left_mm + 16 <= 0 <= tile.left_mm + tiling.wide_mm - 16 for tile in tiling.tiles)


def test_the_tape_is_laid_from_bolt_to_bolt_and_once_across() -> None:
    spans = spans_mm(FOUR)
    assert [(one, other) for one, other, _ in spans] == [(1, 2), (2, 3), (3, 4), (1, 3)]
    assert spans[-1][2] == pytest.approx(math.hypot(300, 200))
    assert spans_mm(FOUR[:1]) == ()
    assert len(spans_mm(FOUR[:2])) == 1
