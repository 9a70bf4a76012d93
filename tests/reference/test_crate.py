"""A crate against figures computed apart, and its timber against the rule for borders."""

import pytest

from jobs.delivery.crate import laid, solid_wood_rule
from jobs.delivery.crate_parts import Box, timber_masses
from jobs.delivery.cutting import Stock, area_floor
from materials.estimator.lines import Term
from tests.jobs.delivery.samples import build, crate_of

PIECE = Box(1.8, 0.9, 2.2)


def metres(*sides: float) -> pytest.approx:
    return pytest.approx(sides, abs=1e-6)


def sides(box: Box) -> tuple[float, float, float]:
    return box.length_m, box.width_m, box.height_m


def test_inside_and_outside():
    # Computed apart: 100 mm clear, 12 mm plywood, 50 mm battens outside, 100 mm skids.
    crate = crate_of(PIECE)
    assert sides(crate.inside) == metres(2.0, 1.1, 2.4)
    assert sides(crate.outside) == metres(2.124, 1.224, 2.574)
    shown = {each.name: each.value / 1000 for each in crate.sizes}
    assert (shown["length outside"], shown["width outside"], shown["height outside"]) == metres(2.124, 1.224, 2.574)


def test_area_and_masses():
    # Computed apart, plywood as large as the inside: 19.28 m² at 550 kg/m³, 36 m of batten, three skids across.
    crate = crate_of(PIECE)
    assert crate.inside.surface_m2 == pytest.approx(19.28, rel=1e-6)
    masses = timber_masses(
        Term("plywood", crate.inside.surface_m2, "m^2", ""),
        Term("battens", 36.0, "m", ""),
        Term("skids", crate.skids.count * crate.skids.length_m, "m", ""),
        build(),
    )
    assert crate.skids.count == 3
    assert [each.value for each in masses] == pytest.approx([127.248, 43.2, 17.6256], rel=1e-6)
    assert sum(each.value for each in masses) == pytest.approx(188.0736, rel=1e-6)


def test_pads_and_screws_are_in_its_mass():
    # Computed apart: 60 kg at 10 kPa and 150 mm square wants 3 pads to each end; the least of them, 4 below and 2 to
    # each long side; 14 in all of 150 × 150 × 100 mm at 33 kg/m³. Screws are a fiftieth of the timber.
    crate = crate_of(PIECE)
    plywood, battens, skids, pads, screws = crate.masses
    assert pads.value == pytest.approx(14 * 0.15 * 0.15 * 0.1 * 33, rel=1e-9)
    assert screws.value == pytest.approx((plywood.value + battens.value + skids.value) / 50, rel=1e-9)
    assert crate.mass.value == pytest.approx(sum(each.value for each in crate.masses))
    assert crate.gross.value == pytest.approx(crate.mass.value + 60)


def test_no_plan_takes_fewer_sheets_than_the_area_asks_for():
    # Computed apart: 19.28 m² from sheets of 2440 × 1220 mm is seven at least.
    assert area_floor(19.28, Stock(2.44, 1.22, 0.003, turning=True)) == 7


def test_a_crate_weighs_what_crates_weigh():
    # Common practice, no source: 8 to 15 kg to a square metre in 12 mm plywood with battens.
    for piece in (PIECE, Box(0.6, 0.6, 0.6), Box(3.0, 1.0, 1.2)):
        assert 8 <= crate_of(piece).kg_per_m2 <= 15


def test_battens_about_600_mm_apart():
    # Common practice, no source: 1.2 to 2.5 m of batten to a square metre of crate.
    crate = crate_of(PIECE)
    metres_of_batten = sum(each.count * each.length_m for each in crate.battens)
    assert 1.2 <= metres_of_batten / crate.inside.surface_m2 <= 2.5


def test_a_tall_piece_lies_lower_on_its_back():
    assert sides(laid(PIECE, "back")) == (2.2, 1.8, 0.9)
    assert sides(laid(PIECE, "side")) == (2.2, 0.9, 1.8)


@pytest.mark.parametrize(
    ("thickness_m", "leaves", "treated"), [(0.05, True, True), (0.05, False, False), (0.006, True, False)]
)
def test_solid_timber_at_a_border(thickness_m, leaves, treated):
    # ISPM 15: 56 °C at the core for 30 minutes and the mark; 6 mm and less is exempt, the 6 mm from memory.
    said = solid_wood_rule(thickness_m, leaves_the_country=leaves)
    assert ("56 °C at the core for 30 minutes" in said and "mark" in said) is treated
