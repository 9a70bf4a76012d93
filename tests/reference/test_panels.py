"""Laminate properties and flat plates against ISO 12215-5, Roark and Timoshenko."""

import math

import pytest

from materials.estimator.laminate import thickness_mm
from materials.estimator.lines import Term
from materials.estimator.panel import Limits, Loads, check_panel, crown_factor, strength_of
from materials.estimator.plates import (
    Plate,
    clamped_middle,
    pressure_coefficients,
    supported_deflection,
    under_pressure,
    under_push,
)


def test_mat_at_a_glass_fraction_of_030() -> None:
    # ISO 12215-5:2008 Annex C, Table C.4 a), seen as a third-party transcription.
    found = strength_of(0.30, measured=True)
    assert found.flexural == pytest.approx(152.18, rel=1e-5)
    assert found.tensile == pytest.approx(85.0, rel=1e-5)
    assert found.compressive == pytest.approx(117.0, rel=1e-5)
    assert found.shear == pytest.approx(62.0, rel=1e-5)
    assert found.modulus == pytest.approx(6400.0, rel=1e-5)
    assert found.shear_modulus == pytest.approx(2750.0, rel=1e-5)
    assert found.interlaminar_shear == pytest.approx(17.25, rel=1e-5)


def test_glass_that_was_not_measured_counts_for_four_fifths() -> None:
    # ISO 12215-5:2008 Annex C, C.1.4, evaluation level c, and Table 7: design stress half the flexural strength.
    found = strength_of(0.30, measured=False)
    assert found.flexural == pytest.approx(121.744, rel=1e-5)
    assert found.modulus == pytest.approx(5120.0, rel=1e-5)
    assert 0.5 * found.flexural == pytest.approx(60.872, rel=1e-5)


@pytest.mark.parametrize(
    ("ratio", "beta", "alpha"),
    [(1.0, 0.2874, 0.0444), (1.4, 0.4530, 0.0770), (2.0, 0.6102, 0.1110), (3.0, 0.7134, 0.1335)],
)
def test_simply_supported_plates_by_roark(ratio: float, beta: float, alpha: float) -> None:
    # Roark, Table 11.4, case 1a, as printed; its own rounding is up to 0.5 %.
    found = pressure_coefficients(ratio, "supported")
    assert found[0] == pytest.approx(beta, rel=0.005)
    assert found[1] == pytest.approx(alpha, rel=0.006)


def test_the_simply_supported_square_exactly() -> None:
    # Timoshenko and Woinowsky-Krieger print 0.00406 and 0.0479; the series summed apart.
    assert supported_deflection(1.0) == pytest.approx(0.00406235266067, rel=1e-4)
    assert pressure_coefficients(1.0, "supported")[0] / 6 == pytest.approx(0.0478863783233, rel=1e-3)


@pytest.mark.parametrize(
    ("ratio", "edge", "middle", "alpha"),
    [(1.0, 0.3078, 0.1386, 0.0138), (1.4, 0.4356, 0.2094, 0.0226), (2.0, 0.4974, 0.2472, 0.0277)],
)
def test_clamped_plates_by_roark(ratio: float, edge: float, middle: float, alpha: float) -> None:
    # Roark, Table 11.4, case 8a, from memory, reproduced apart by a Ritz solution within 0.9 %.
    beta, found = pressure_coefficients(ratio, "clamped")
    assert beta == pytest.approx(edge, rel=0.005)
    assert clamped_middle(ratio) == pytest.approx(middle, rel=0.012)
    assert found == pytest.approx(alpha, rel=0.005)


@pytest.mark.parametrize(
    ("ratio", "k2", "k3"),
    [
        (1.0, 0.307654563297, 0.0139534883721),
        (1.5, 0.453696311672, 0.0242801890847),
        (2.0, 0.497354497354, 0.0279560036664),
    ],
)
def test_iso_panel_factors_agree_with_the_clamped_plate(ratio: float, k2: float, k3: float) -> None:
    # ISO 12215-5:2008 Table 5, its two formulas; they and plate theory agree within about 1.2 %.
    strength = (0.271 * ratio**2 + 0.91 * ratio - 0.554) / (ratio**2 - 0.313 * ratio + 1.351)
    stiffness = (0.027 * ratio**2 - 0.029 * ratio + 0.011) / (ratio**2 - 1.463 * ratio + 1.108)
    assert strength == pytest.approx(k2, rel=1e-3)
    assert stiffness == pytest.approx(k3, rel=2e-3)
    beta, alpha = pressure_coefficients(ratio, "clamped")
    assert beta == pytest.approx(k2, rel=0.012)
    assert alpha == pytest.approx(k3, rel=0.025)


def test_a_metre_square_in_three_layers_of_mat_is_no_panel() -> None:
    # Computed apart from Roark case 8a and ISO Annex C: linear theory says more than ten times the thickness, and so
    # nothing but that it is too flexible.
    thick = 3 * thickness_mm(0.45, 0.30, 2560, 1200)
    assert thick == pytest.approx(3.15234375, rel=1e-4)
    plate = Plate(1.0, 1.0, thick, 6400)
    bent = under_pressure(plate, 500, "clamped")
    assert bent.stress_mpa == pytest.approx(15.4871491549, rel=0.005)
    assert bent.deflection_mm == pytest.approx(34.4166351987, rel=0.005)
    loads = Loads(Term("wind", 500, "N/m^2", ""), Term("push", 0, "N", ""), Term("palm", 0.05, "m", ""))
    check = check_panel(plate, 152.18, thick / 3, loads, Limits(Term("", 4, "", ""), Term("", 100, "", "")))
    assert check.too_flexible
    assert not check.passes


def _navier_push(ratio: float, radius: float) -> tuple[float, float]:
    """A square patch of the circle's area on a supported plate of short side 1, by Navier's series: w D/P and M/P."""
    side = math.sqrt(math.pi) * radius
    deflection = moment = 0.0
    for m in range(1, 400, 2):
        for n in range(1, 400, 2):
            load = math.sin(m * math.pi * side / 2) / (m * math.pi * side / 2)
            load *= math.sin(n * math.pi * side / ratio / 2) / (n * math.pi * side / ratio / 2)
            waves = m**2 + (n / ratio) ** 2
            deflection += 4 / ratio * load / (math.pi**4 * waves**2)
            moment += 4 / ratio * load * (m**2 + 0.3 * (n / ratio) ** 2) / (math.pi**2 * waves**2)
    return deflection, moment


@pytest.mark.parametrize("ratio", [1.0, 1.6, 2.0])
def test_a_push_on_a_supported_plate_by_naviers_series(ratio: float) -> None:
    # Roark, Table 11.4, case 1b, from memory, against Timoshenko and Woinowsky-Krieger, art. 29, summed here.
    plate = Plate(ratio, 1.0, 10.0, 10_000)
    bent = under_push(plate, 500, 0.05, "supported")
    deflection, moment = _navier_push(ratio, 0.05)
    stiffness = 10_000 * 10**3 / (12 * (1 - 0.3**2))
    assert bent.deflection_mm == pytest.approx(deflection * 500 * 1000**2 / stiffness, rel=0.02)
    assert bent.stress_mpa == pytest.approx(6 * moment * 500 / 10**2, rel=0.03)


def test_a_push_on_a_clamped_square() -> None:
    # Timoshenko and Woinowsky-Krieger, Table 37: 0.00560 P b²/D, from memory.
    bent = under_push(Plate(1.0, 1.0, 10.0, 10_000), 500, 0.05, "clamped")
    stiffness = 10_000 * 10**3 / (12 * (1 - 0.3**2))
    assert bent.deflection_mm == pytest.approx(0.00560 * 500 * 1000**2 / stiffness, rel=0.005)


def test_the_curvature_factor_at_its_ends() -> None:
    # ISO 12215-5:2008: 1.1 - 3.33 c/b from 0.03 to 0.18, and 0.5 above.
    assert crown_factor(0.03) == pytest.approx(1.0, abs=0.001)
    assert crown_factor(0.10) == pytest.approx(0.767)
    assert crown_factor(0.18) == pytest.approx(0.5006)
    assert crown_factor(0.25) == 0.5
