"""Laws of flat plates, what makes a panel pass, and what is refused."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.estimator.errors import OutOfRange, UnknownChoice
from materials.estimator.lines import Term
from materials.estimator.panel import Limits, Loads, PanelCheck, check_panel, core_times, crown_factor, strength_of
from materials.estimator.plates import EDGES, Plate, pressure_coefficients, under_pressure, under_push

LIMITS = Limits(Term("factor", 4, "", ""), Term("share", 100, "", ""))


def loads(wind: float = 500, push: float = 300) -> Loads:
    return Loads(Term("wind", wind, "N/m^2", ""), Term("push", push, "N", ""), Term("palm", 0.05, "m", ""))


def checked(plate: Plate, at: Loads | None = None) -> PanelCheck:
    return check_panel(plate, 121.744, 1.05, at or loads(), LIMITS)


@given(st.floats(0.2, 4), st.floats(1, 5), st.floats(2, 15), st.floats(50, 2000), st.sampled_from(EDGES))
def test_twice_the_thickness_bends_an_eighth_as_far(
    short: float, ratio: float, thick: float, wind: float, edges: str
) -> None:
    thin = Plate(short * ratio, short, thick, 5120)
    double = replace(thin, thickness_mm=2 * thick)
    once, twice = under_pressure(thin, wind, edges), under_pressure(double, wind, edges)
    assert twice.deflection_mm == pytest.approx(once.deflection_mm / 8, rel=1e-9)
    assert twice.stress_mpa == pytest.approx(once.stress_mpa / 4, rel=1e-9)


@given(st.floats(1, 30))
def test_a_clamped_panel_bends_a_third_to_a_fifth_as_far(ratio: float) -> None:
    assert 3 < pressure_coefficients(ratio, "supported")[1] / pressure_coefficients(ratio, "clamped")[1] < 5.1


@given(st.floats(1, 100), st.floats(0, 5), st.sampled_from(EDGES))
def test_a_longer_panel_is_never_stiffer(ratio: float, more: float, edges: str) -> None:
    short, long = pressure_coefficients(ratio, edges), pressure_coefficients(ratio + more, edges)
    assert long[0] >= short[0] - 1e-9
    assert long[1] >= short[1] - 1e-9


@given(st.floats(0.3, 3), st.floats(3, 12), st.sampled_from(EDGES))
def test_twice_the_push_bends_twice_as_far(short: float, thick: float, edges: str) -> None:
    plate = Plate(short, short, thick, 5120)
    once, twice = under_push(plate, 250, 0.05, edges), under_push(plate, 500, 0.05, edges)
    assert twice.deflection_mm == pytest.approx(2 * once.deflection_mm)
    assert twice.stress_mpa == pytest.approx(2 * once.stress_mpa)


def test_every_remedy_makes_the_panel_pass_and_one_less_does_not() -> None:
    plate = Plate(1.4, 0.9, 5.25, 5120)
    found = checked(plate).remedies
    assert found is not None

    def passes(tried: Plate) -> bool:
        return all(case.stiff and case.strong for case in checked(tried).cases)

    assert found.plies is not None
    assert passes(replace(plate, thickness_mm=5.25 + 1.05 * found.plies))
    assert not passes(replace(plate, thickness_mm=5.25 + 1.05 * (found.plies - 1)))
    assert found.plied_mm == pytest.approx(5.25 + 1.05 * found.plies)
    assert found.ribs is not None
    ribbed = replace(plate, thickness_mm=5.25 + 1.05 * found.rib_plies)
    assert passes(replace(ribbed, short_m=0.9 / (found.ribs + 1)))
    assert not passes(replace(ribbed, short_m=0.9 / found.ribs))
    assert found.crown_mm is not None
    assert found.crown_plies < found.plies
    assert found.rib_spacing_m == pytest.approx(0.9 / (found.ribs + 1))
    assert found.core_mm is not None
    assert found.core_times == pytest.approx(core_times(5.25, found.core_mm))


def test_a_small_thick_panel_passes_and_needs_nothing() -> None:
    found = checked(Plate(0.4, 0.4, 10, 5120), loads(push=100))
    assert found.passes
    assert found.remedies is None


def test_a_core_stiffens_as_the_closed_form_says() -> None:
    # By definition of the second moment of area: halves of 1.5 mm over 10 mm, (13³ - 10³)/3³ = 44.33.
    assert core_times(3, 10) == pytest.approx(44.333333)
    assert core_times(3, 0) == 1


def test_what_no_panel_is_is_refused() -> None:
    plate = Plate(1, 1, 5, 5120)
    for wrong in ({"short_m": 0.001}, {"long_m": 0.5}, {"thickness_mm": 0}, {"modulus_mpa": 10}):
        with pytest.raises(OutOfRange):
            replace(plate, **wrong)
    with pytest.raises(OutOfRange, match="Pressure"):
        under_pressure(plate, -1, "clamped")
    with pytest.raises(UnknownChoice, match="supported, clamped"):
        under_pressure(plate, 1, "free")
    with pytest.raises(OutOfRange, match="Radius of the palm"):
        under_push(plate, 1, 0.6, "clamped")
    with pytest.raises(OutOfRange, match="Push"):
        under_push(plate, -1, 0.05, "clamped")
    with pytest.raises(OutOfRange, match="Glass fraction"):
        strength_of(0.1, measured=True)
    with pytest.raises(OutOfRange, match="Crown"):
        crown_factor(-0.1)
    with pytest.raises(OutOfRange, match="Thickness of the skin"):
        core_times(0, 1)
    with pytest.raises(OutOfRange, match="Span over deflection"):
        check_panel(plate, 120, 1, loads(), Limits(Term("", 4, "", ""), Term("", 1, "", "")))
    with pytest.raises(OutOfRange, match="Factor on flexural strength"):
        check_panel(plate, 120, 1, loads(), Limits(Term("", 0.5, "", ""), Term("", 100, "", "")))
