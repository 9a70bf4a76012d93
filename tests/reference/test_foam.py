"""Foam patterns against EN 13163 (from memory) and blockwork computed apart."""

import pytest

from materials.estimator.pattern import blocks_for, foam_density_kg_m3
from materials.estimator.shapes import Box, Ellipsoid, form_of
from materials.estimator.spec import Block
from tests.materials.estimator.specs import figures, line, worked

BLOCK = Block(2.4, 1.2, 0.6)


@pytest.mark.parametrize(("strength_kpa", "expected"), [(70, 15.1), (100, 18.1), (150, 23.1), (200, 28.1), (250, 33.1)])
def test_density_from_the_declared_class(strength_kpa, expected):
    # EN 13163 informative annex, from memory: rho = (CS10 + 81)/10.
    assert foam_density_kg_m3(strength_kpa) == pytest.approx(expected, abs=0.05)


def test_an_ellipsoid_of_blocks_laid_flat():
    # Computed apart: 2.2 x 1.1 x 3.0 m high; one block covers a layer, and there are ceil(3.0 / 0.6) layers.
    taken = figures(worked(Ellipsoid(1.1, 0.55, 1.5), filler_mm=0.0))
    assert taken.pattern.blocks == 5
    assert taken.pattern.bought_m3 == pytest.approx(8.64, rel=1e-6)
    assert taken.pattern.solid_m3 == pytest.approx(3.80132711084, rel=1e-5)
    assert taken.pattern.yield_fraction == pytest.approx(0.439968415607, rel=1e-4)
    assert taken.pattern.foam_kg == pytest.approx(76.0265422169, rel=1e-4)
    assert taken.pattern.mass_kg == taken.pattern.foam_kg


def test_the_foam_is_cut_undersize_by_the_filler_square_to_the_skin():
    # By definition: 5 mm on every face, and 5 l of filler to a square metre.
    filler = line(worked(filler_mm=5.0), "pattern", "plaster_filler")
    (thickness,) = [term for term in filler.terms if term.unit == "mm"]
    assert thickness.value == 5
    assert "undersize, square to the skin" in thickness.origin
    assert thickness.value / 1000 * 1000 == pytest.approx(5.0, rel=1e-9)
    assert filler.net == pytest.approx(1.4 * 5.0 * figures(worked()).area_m2, rel=1e-9)


def test_a_box_as_large_as_its_blocks_wastes_nothing():
    # Geometry: 2.4 x 1.2 x 1.2 m is two blocks, lying any way.
    for sides in ((2.4, 1.2, 1.2), (1.2, 2.4, 1.2), (1.2, 1.2, 2.4)):
        assert blocks_for(form_of(Box(*sides)).stations, BLOCK).blocks == 2


def test_carved_figures_waste_about_half_of_their_blocks():
    # Common practice, no source: organic forms from flat blocks use 35 to 65 % of what is bought.
    assert 0.35 <= figures(worked(Ellipsoid(1.1, 0.55, 1.5))).pattern.yield_fraction <= 0.65
