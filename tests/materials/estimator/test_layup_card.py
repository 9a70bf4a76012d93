"""Layers, sessions and the glass to cut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.errors import OutOfRange
from materials.estimator.layup_card import Besides, Roll, lay_up_card, sessions_of
from materials.estimator.lines import Term
from materials.estimator.reference import COEFFICIENTS
from materials.estimator.spec import LayUp, Ply
from materials.estimator.working import figure_term

TERMS = {key: figure_term(figure) for key, figure in COEFFICIENTS.items()}
LIGHT = LayUp("Light skin", 0.6, (Ply("csm", 0.45, 0.30, 3),))
HEAVY = LayUp("Heavy", 0.8, (Ply("tissue", 0.03, 0.10), Ply("csm", 0.45, 0.30, 5), Ply("woven", 0.6, 0.48, 2)))


def roll(width: float = 1.0, lap: float = 0.04, cut: float = 1.2, trim: float = 0.1) -> Roll:
    return Roll(
        Term("width", width, "m", ""), Term("lap", lap, "m", ""), Term("cut", cut, "m", ""), Term("trim", trim, "", "")
    )


def card(lay_up: LayUp = LIGHT, area: float = 8.042477, **rolled: float):
    return lay_up_card(lay_up, Term("area", area, "m^2", ""), roll(**rolled), TERMS)


def test_three_layers_of_mat_on_a_sphere() -> None:
    # ISO 12215-5:2008 Annex C: three layers of 450 g/m2 at glass fraction 0.30 are 3.1523 mm; with 0.5 mm of gel coat
    # 3.652 mm. A sphere of 1.6 m: 8.0425 m2 × (0.6 + 3 × 1.5) kg/m2 = 41.02 kg of skin, computed apart.
    found = card()
    assert found.thickness.value == pytest.approx(3.652344, rel=1e-5)
    assert found.mass.value == pytest.approx(41.0166, rel=1e-4)
    assert found.resin.value == pytest.approx(8.042477 * 3.15 * 1.1, rel=1e-9)
    assert [layer.number for layer in found.layers] == [0, 1, 2, 3]
    assert found.sessions == 1


def test_sessions_hold_no_more_wet_layers_than_the_studio_allows() -> None:
    sessions = [session for ply, session in sessions_of(HEAVY.plies, 3) if ply.kind != "tissue"]
    assert sessions == [1, 1, 1, 2, 2, 2, 3]
    assert sessions_of(HEAVY.plies, 3)[0][1] == 1


def test_the_roll_covers_the_area_with_trim_after_its_laps() -> None:
    found = card(area=9.6, width=1.0, lap=0.04, cut=1.2, trim=0.1).cuts[0]
    # 9.6 × 1.1 ÷ 0.96 = 11 m to a layer: ten cuts of 1.1 m, three layers 33 m of a metre's width at 450 g/m2.
    assert (found.cuts_a_layer, found.cut_m) == (10, pytest.approx(1.1))
    assert found.length.value == pytest.approx(33)
    assert found.mass.value == pytest.approx(14.85)
    assert found.covered.value == pytest.approx(28.8)


def test_extra_layers_on_the_returns_are_in_resin_mass_and_glass() -> None:
    mould = LayUp("Mould", 0.8, (Ply("csm", 0.45, 0.30, 8),), return_extra_layers=2)
    area, returns = Term("area", 10, "m^2", ""), Term("returns", 2, "m^2", "")
    more = Besides(mould.extra_plies, returns, "more on the returns", "")
    found = lay_up_card(mould, area, roll(), TERMS, more)
    # A layer is 1.5 kg/m2, 1.05 of it resin: 10 × (0.8 + 12) + 2 × 3 kg, and 10 × 8.4 + 2 × 2.1 kg of resin with 10 %.
    assert found.mass.value == pytest.approx(134)
    assert found.resin.value == pytest.approx(88.2 * 1.1)
    assert [cut.layers for cut in found.cuts] == [8, 2]
    assert found.cuts[1].covered.value == pytest.approx(4)


@given(st.floats(0.05, 200), st.floats(0.5, 2), st.floats(0, 0.1), st.floats(0.3, 3), st.floats(0, 0.5))
def test_cuts_are_never_longer_than_is_handy_and_never_too_little(
    area: float, width: float, lap: float, cut: float, trim: float
) -> None:
    for found in card(HEAVY, area, width=width, lap=lap, cut=cut, trim=trim).cuts:
        assert found.cut_m <= cut * (1 + 1e-9)
        assert found.length.value == pytest.approx(found.cut_m * found.cuts_a_layer * found.layers)
        assert found.length.value * width >= found.covered.value * (1 - 1e-9)


def test_what_cannot_be_cut_is_refused() -> None:
    for wrong in ({"lap": 1.0}, {"cut": 0.0}, {"area": 0.0}):
        with pytest.raises(OutOfRange):
            card(**wrong)
    with pytest.raises(OutOfRange, match="Wet layers"):
        sessions_of(LIGHT.plies, 0)
