"""Cutting plans: nothing overlaps, everything can be sawn, and no plan beats the area."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.delivery.crate_boards import boards_plan, overshoots
from jobs.delivery.crate_parts import Box
from jobs.delivery.cutting import CuttingPlan, Laid, Part, Stock, Taken, sawn
from jobs.delivery.joined import joined
from jobs.delivery.nesting import MOST_PARTS, nest
from materials.estimator.errors import Missing, OutOfRange
from tests.jobs.delivery.samples import crate_of

SHEET = Stock(2.44, 1.22, 0.003, turning=True)
GRAINED = Stock(2.44, 1.22, 0.003, turning=False)

sides = st.tuples(st.integers(50, 2440), st.integers(50, 1220))
some_parts = st.lists(sides, min_size=1, max_size=18).map(
    lambda found: [Part(f"part {n}", length / 1000, width / 1000) for n, (length, width) in enumerate(found)]
)


def apart(one: Laid, other: Laid, kerf_m: float) -> bool:
    """Whether a saw can pass between two parts."""
    return (
        one.x_m + one.length_m + kerf_m <= other.x_m + 1e-9
        or other.x_m + other.length_m + kerf_m <= one.x_m + 1e-9
        or one.y_m + one.width_m + kerf_m <= other.y_m + 1e-9
        or other.y_m + other.width_m + kerf_m <= one.y_m + 1e-9
    )


def sawn_apart(plan: CuttingPlan) -> bool:
    """Follow the cuts on every sheet with a saw: after the last each part is a piece of its own."""
    return all(_freed(plan, sheet) for sheet in plan.sheets)


def _freed(plan: CuttingPlan, sheet) -> bool:
    pieces = [(0.0, 0.0, plan.stock.length_m, plan.stock.width_m)]
    for cut in sheet.cuts:
        left, low, right, high = piece = next(each for each in pieces if _runs_through(cut, each))
        pieces.remove(piece)
        if cut.across:
            assert cut.at_m == pytest.approx(cut.x_m - left, abs=1e-6)
            pieces += [(left, low, cut.x_m, high), (cut.x_m + plan.stock.kerf_m, low, right, high)]
        else:
            assert cut.at_m == pytest.approx(cut.y_m - low, abs=1e-6)
            pieces += [(left, low, right, cut.y_m), (left, cut.y_m + plan.stock.kerf_m, right, high)]
    wanted = {_rounded((each.x_m, each.y_m, each.x_m + each.length_m, each.y_m + each.width_m)) for each in sheet.laid}
    return wanted <= {_rounded(each) for each in pieces}


def _runs_through(cut, piece: tuple[float, float, float, float]) -> bool:
    """Whether a cut goes from edge to edge of a piece."""
    left, low, right, high = piece
    if cut.across:
        inside, ends = left < cut.x_m + 1e-9 < right + 1e-6, (cut.y_m, cut.y_m + cut.length_m)
        return inside and ends == pytest.approx((low, high), abs=1e-6)
    inside, ends = low < cut.y_m + 1e-9 < high + 1e-6, (cut.x_m, cut.x_m + cut.length_m)
    return inside and ends == pytest.approx((left, right), abs=1e-6)


def _rounded(places: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(round(place, 4) for place in places)


@settings(deadline=None, max_examples=80)
@given(parts=some_parts, stock=st.sampled_from([SHEET, GRAINED]))
def test_a_plan_can_be_sawn_and_never_beats_the_area(parts, stock):
    plan = nest(parts, stock)
    laid = [each for sheet in plan.sheets for each in sheet.laid for _ in range(sheet.alike)]
    assert sorted(each.part.name for each in laid) == sorted(part.name for part in parts)
    assert plan.count >= plan.floor
    assert 0 < plan.yield_fraction <= 1
    for sheet in plan.sheets:
        assert all(apart(one, other, stock.kerf_m) for one, other in itertools.combinations(sheet.laid, 2))
        for each in sheet.laid:
            assert each.x_m + each.length_m <= stock.length_m + 1e-9
            assert each.y_m + each.width_m <= stock.width_m + 1e-9
            assert {each.length_m, each.width_m} == {each.part.length_m, each.part.width_m}
            assert stock.turning or not each.is_turned
    assert sawn_apart(plan)


@settings(deadline=None, max_examples=15)
@given(parts=some_parts)
def test_the_same_parts_give_the_same_plan(parts):
    assert nest(parts, SHEET) == nest(list(parts), SHEET)


def test_parts_that_fill_a_sheet_but_for_the_saw():
    # Geometry: two halves of a sheet less the cut are one sheet; two true halves are two.
    less = Part("half", (2.44 - 0.003) / 2, 1.22)
    assert nest([less, less], SHEET).count == 1
    assert nest([Part("half", 1.22, 1.22)] * 2, SHEET).count == 2


def test_grain_decides_whether_a_part_may_be_turned():
    # Geometry: 1.2 × 2.4 m goes on the sheet lengthwise alone.
    upright = Part("upright", 1.2, 2.4)
    assert nest([upright], SHEET).sheets[0].laid[0].is_turned
    with pytest.raises(OutOfRange, match=r"upright, how wide is 2\.4 m; it must be between 0\.001 and 1\.22 m"):
        nest([upright], GRAINED)


def test_sheets_cut_alike_are_shown_once():
    plan = nest([Part("board", 2.4, 1.2)] * 5, SHEET)
    assert [sheet.alike for sheet in plan.sheets] == [5]
    assert plan.count == plan.floor == 5


def test_a_pinwheel_cannot_be_cut_through():
    # Geometry: four boards round a hole, no line from edge to edge passes between them.
    places = [(0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3)]
    taken = [Taken(*(10_000 * side for side in place), part=n) for n, place in enumerate(places)]
    boards = [Part("board", 2, 1)] * 4
    assert sawn(taken, boards, Stock(3, 3, 0, turning=True)) is None


@pytest.mark.parametrize(
    ("refused", "error", "told"),
    [
        (lambda: nest([], SHEET), Missing, "Parts to cut"),
        (lambda: nest([Part("board", 3.0, 1.0)], SHEET), OutOfRange, "board, how long is 3 m"),
        (lambda: nest([Part("board", 1.3, 1.3)], SHEET), OutOfRange, "board, how wide is 1.3 m"),
        (lambda: nest([Part("board", float("nan"), 1.0)], SHEET), OutOfRange, "board, how long is nan"),
        (lambda: nest([Part("board", 0.0, 1.0)], SHEET), OutOfRange, "board, how long is 0 m"),
        (lambda: nest([Part("board", 0.1, 0.1)] * (MOST_PARTS + 1), SHEET), OutOfRange, "in batches"),
        (lambda: Stock(0.0, 1.0, 0.003, turning=True), OutOfRange, "Length of a sheet"),
        (lambda: Stock(2.0, 1.0, 0.5, turning=True), OutOfRange, "Cut of the saw"),
    ],
)
def test_it_refuses_what_cannot_be_cut(refused, error, told):
    with pytest.raises(error, match=told):
        refused()


def test_a_board_larger_than_a_sheet_is_joined():
    whole = joined("lid", 3.0, 2.0, SHEET, evenly=False)
    assert sum(part.length_m * part.width_m for part in whole) == pytest.approx(6.0)
    assert all(part.length_m <= 2.44 and part.width_m <= 2.44 for part in whole)
    assert [round(part.length_m, 3) for part in joined("end", 2.5, 1.0, SHEET, evenly=False)] == [1.25, 1.25]
    assert [part.name for part in joined("floor", 1.0, 1.0, SHEET, evenly=True)] == ["floor"]


@settings(deadline=None, max_examples=25)
@given(length=st.floats(0.3, 4), width=st.floats(0.3, 2), height=st.floats(0.3, 2.6))
def test_a_crate_is_cut_from_no_fewer_sheets_than_its_inside_has_area(length, width, height):
    crate = crate_of(Box(length, width, height))
    plan = boards_plan(crate.panels, SHEET)
    assert plan.parts_m2 == pytest.approx(sum(each.count * each.length_m * each.width_m for each in crate.panels))
    assert plan.parts_m2 > crate.inside.surface_m2
    assert plan.count >= plan.floor


def test_several_crates_are_cut_together():
    crate = crate_of(Box(0.7, 0.7, 0.8))
    one, six = (boards_plan(crate.panels, SHEET, crates=many) for many in (1, 6))
    assert six.count <= 6 * one.count
    assert six.parts_m2 == pytest.approx(6 * one.parts_m2)


def test_a_panel_just_wider_than_a_sheet_is_pointed_out():
    # The lid of this crate is 1.224 m wide, 4 mm more than a sheet.
    crate = crate_of(Box(1.8, 0.9, 2.2))
    found = {each.panel.name: each.by_m for each in overshoots(crate.panels, SHEET)}
    assert found["floor and lid"] == pytest.approx(0.004)
    assert overshoots(crate_of(Box(1.8, 0.8, 2.0), clearance=0.05).panels, SHEET) == ()
