"""Where labels lie on their sheet, and how large a code they take."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.delivery.label_codes import CAST, CRATE, PIECE, Labelled, read_code
from jobs.delivery.label_sheets import LabelSheet, checked, code_side_mm, label_places
from jobs.delivery.papers import PAPERS, paper_of
from jobs.seeding.labels import STOCKS
from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice

SEEDED = [LabelSheet(PAPERS[paper], *measures) for _, paper, *measures in STOCKS]
THREE_BY_SEVEN = SEEDED[1]


@pytest.mark.parametrize("sheet", SEEDED)
def test_the_common_sheets_fill_their_paper_evenly_and_take_a_code(sheet: LabelSheet) -> None:
    assert checked(sheet) is sheet
    last = label_places(sheet, 1, sheet.count)[-1]
    right = sheet.paper.width_mm - last.x_mm - sheet.width_mm
    foot = sheet.paper.height_mm - last.y_mm - sheet.height_mm
    # A die cuts from the middle of the paper, so that what is left over is the same on both sides.
    assert right == pytest.approx(sheet.left_mm, abs=0.11)
    assert foot == pytest.approx(sheet.top_mm, abs=0.11)
    for modules in (29, 33, 37, 41):
        side = code_side_mm(sheet, modules)
        assert 25 <= side <= 50
        assert side * (modules + 8) / modules + 3 <= sheet.height_mm


@given(st.sampled_from(SEEDED), st.data())
def test_labels_go_on_from_the_first_free_place_and_never_share_one(sheet: LabelSheet, data: st.DataObject) -> None:
    first = data.draw(st.integers(1, sheet.count))
    count = data.draw(st.integers(0, 120))
    places = label_places(sheet, first, count)
    assert len(set(places)) == count
    on_first = [place for place in places if place.page == 0]
    assert len(on_first) == min(count, sheet.count - first + 1)
    if places:
        row, column = divmod(first - 1, sheet.columns)
        assert (places[0].x_mm, places[0].y_mm) == (
            sheet.left_mm + column * sheet.across_mm,
            sheet.top_mm + row * sheet.down_mm,
        )
    for place in places:
        assert place.x_mm + sheet.width_mm <= sheet.paper.width_mm + 0.05
        assert place.y_mm + sheet.height_mm <= sheet.paper.height_mm + 0.05


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"columns": 4}, "ends 268.75 mm from the edge, and A4 measures 210 mm"),
        ({"rows": 8}, "ends 319.95 mm from the edge"),
        ({"across_mm": 60.0}, "must be between 63.5 and 420 mm"),
        ({"down_mm": 30.0}, "never overlap"),
        ({"height_mm": 30.0, "down_mm": 38.1}, "Height of a label is 30 mm"),
        ({"width_mm": 40.0}, "Width of a label is 40 mm"),
        ({"left_mm": -1.0}, "From the left edge is -1 mm"),
        ({"columns": 0}, "Labels across is 0"),
        ({"rows": 41}, "Labels down is 41"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_with_the_measure(change: dict[str, float], said: str) -> None:
    with pytest.raises(EstimatorError, match=said):
        checked(replace(THREE_BY_SEVEN, **change))


def test_a_code_too_dense_for_its_label_is_refused() -> None:
    with pytest.raises(OutOfRange, match="Choose larger labels"):
        code_side_mm(replace(THREE_BY_SEVEN, height_mm=35.0), 29)


def test_a_first_place_off_the_sheet_is_refused() -> None:
    with pytest.raises(OutOfRange, match="between 1 and 21"):
        label_places(THREE_BY_SEVEN, 22, 1)
    with pytest.raises(OutOfRange, match="Print fewer sections"):
        label_places(THREE_BY_SEVEN, 1, 601)


@given(
    st.builds(
        lambda section, kind, number, piece: Labelled(section, kind, number, piece if kind == PIECE else 0),
        st.integers(1, 999_999_999),
        st.sampled_from([CAST, PIECE, CRATE]),
        st.integers(1, 9999),
        st.integers(1, 9999),
    )
)
def test_a_code_reads_back_as_what_it_was_written_for(thing: Labelled) -> None:
    assert read_code(f" {thing.code.lower()} ") == thing


@pytest.mark.parametrize("signs", ["", "17", "17-C0", "17-M1", "17-P1M1", "017-C1", "17-C\u0661", "17-X1", "x" * 99])
def test_signs_of_no_label_are_refused(signs: str) -> None:
    with pytest.raises(EstimatorError, match="No label says"):
        read_code(signs)


def test_paper_of_another_name_is_refused() -> None:
    assert paper_of("a3").width_mm == 297
    with pytest.raises(UnknownChoice, match="a4, a3, letter"):
        paper_of("a5")
