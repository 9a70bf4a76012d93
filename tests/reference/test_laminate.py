"""Laminates against ISO 12215-5:2008 Annex C, ASTM D2734 and definitions.

The ISO values are seen in a third party's transcription of the standard; its
constants were derived again from the densities.
"""

import pytest

from materials.estimator.laminate import (
    fibre_volume_fraction,
    gel_coat_kg_m2,
    gel_coat_mm,
    laminate_density_kg_m3,
    laminate_kg_m2,
    mat_and_roving_glass_fraction,
    resin_kg_m2,
    stack_of,
    thickness_mm,
    void_share,
)
from materials.estimator.spec import Ply
from materials.units import convert
from tests.materials.estimator.specs import line, worked

GLASS, RESIN = 2560.0, 1200.0


def test_one_layer_of_450_mat_is_a_millimetre():
    # ISO 12215-5:2008 Annex C Eq. C.1, psi 0.30.
    assert thickness_mm(0.45, 0.30, GLASS, RESIN) == pytest.approx(1.05078125, rel=1e-4)
    assert resin_kg_m2(0.45, 0.30) == pytest.approx(1.05, rel=1e-6)
    assert laminate_kg_m2(0.45, 0.30) == pytest.approx(1.5, rel=1e-6)
    assert laminate_density_kg_m3(0.30, GLASS, RESIN) == pytest.approx(1427.50929368, rel=1e-4)
    assert resin_kg_m2(1.0, 0.30) == pytest.approx(2.33333333333, rel=1e-6)


@pytest.mark.parametrize(
    ("glass_fraction", "expected_mm"),
    [(0.25, 2.890625), (0.30, 2.33506944444), (0.36, 1.87210648148), (0.48, 1.29340277778), (0.50, 1.22395833333)],
)
def test_thickness_to_a_kilogram_of_glass(glass_fraction, expected_mm):
    # ISO 12215-5:2008 Annex C Eq. C.1.
    assert thickness_mm(1.0, glass_fraction, GLASS, RESIN) == pytest.approx(expected_mm, rel=1e-4)


@pytest.mark.parametrize("glass_fraction", [0.25, 0.30, 0.36, 0.48, 0.50])
def test_the_thickness_is_that_of_the_standards_own_constants(glass_fraction):
    # ISO 12215-5:2008 Annex C: t = (w/3.072)(2.56/psi - 1.36).
    standard_mm = 1.0 / 3.072 * (2.56 / glass_fraction - 1.36)
    assert thickness_mm(1.0, glass_fraction, GLASS, RESIN) == pytest.approx(standard_mm, rel=1e-12)


def test_a_stack_of_two_mats_and_a_roving():
    # ISO 12215-5:2008 Annex C, C.3.2: psi = sum w / sum (w/psi).
    stack = stack_of((Ply("csm", 0.45, 0.30, 2), Ply("woven", 0.6, 0.48)), GLASS, RESIN)
    assert stack.glass_kg_m2 == pytest.approx(1.5, rel=1e-6)
    assert stack.laminate_kg_m2 == pytest.approx(4.25, rel=1e-6)
    assert stack.resin_kg_m2 == pytest.approx(2.75, rel=1e-6)
    assert stack.glass_fraction == pytest.approx(0.352941176471, rel=1e-5)
    assert stack.thickness_mm == pytest.approx(2.87760416667, rel=1e-4)


@pytest.mark.parametrize(("mat_share", "expected"), [(0.0, 0.46), (0.5, 0.37), (1.0, 0.28)])
def test_mat_and_roving_laid_in_turn(mat_share, expected):
    # ISO 12215-5:2008 Annex C Table C.2: 0.46 - 0.18 R, simple surface.
    assert mat_and_roving_glass_fraction(mat_share) == pytest.approx(expected, rel=1e-6)


def test_mat_and_roving_on_a_complex_surface():
    # ISO 12215-5:2008 Annex C Table C.2: 0.35 - 0.11 R, complex surface.
    assert mat_and_roving_glass_fraction(0.5, complex_surface=True) == pytest.approx(0.295, rel=1e-6)


def test_void_content_from_a_measured_density():
    # ASTM D2734: T = 100/(R/D + r/d), V = 100 (Td - Md)/Td, formula as a test house publishes it.
    theoretical = laminate_density_kg_m3(0.30, GLASS, RESIN)
    assert theoretical == pytest.approx(100 / (70 / 1.2 + 30 / 2.56) * 1000, rel=1e-12)
    assert 100 * void_share(theoretical, 1400.0) == pytest.approx(1.92708333333, abs=0.01)


def test_weights_by_the_ounce():
    # By definition: ounce 28.349523125 g, foot 0.3048 m. Mat is sold by the square foot, cloth by the square yard.
    assert convert(1.0, "oz/ft2", "g/m2") == pytest.approx(305.151727274, rel=1e-5)
    assert convert(1.5, "oz/ft2", "g/m2") == pytest.approx(457.727590911, rel=1e-5)
    assert convert(1.0, "oz/yd2", "g/m2") == pytest.approx(33.9057474749, rel=1e-5)
    assert convert(24.0, "oz/yd2", "g/m2") == pytest.approx(813.737939397, rel=1e-5)
    assert convert(1.0, "mil", "mm") == pytest.approx(0.0254, rel=1e-9)


def test_gel_coat_from_a_wet_film():
    # By definition, m = rho t; a supplier's page gives 1 kg to 1.6 m2 (0.625 kg/m2) at 0.4 to 0.6 mm.
    assert gel_coat_kg_m2(0.5, 1200.0) == pytest.approx(0.6, rel=1e-6)
    assert gel_coat_mm(0.6, 1200.0) == pytest.approx(0.5, rel=1e-6)
    bought = line(worked(), "cast", "gel_coat").buy / worked().sections[0].area_m2 * 10
    assert bought == pytest.approx(6.9, rel=1e-6)


def test_glass_by_volume():
    # By definition: Vf = (psi/rho_f)/(psi/rho_f + (1 - psi)/rho_m).
    assert fibre_volume_fraction(0.30, GLASS, RESIN) == pytest.approx(0.167286245353, rel=1e-4)


def test_the_thickness_of_a_flat_facet_of_three_mats():
    # Computed apart: 3 x 450 g/m2 at psi 0.30, ISO 12215-5:2008 Annex C Eq. C.1.
    assert stack_of((Ply("csm", 0.45, 0.30, 3),), GLASS, RESIN).thickness_mm == pytest.approx(3.15234375, rel=1e-4)
