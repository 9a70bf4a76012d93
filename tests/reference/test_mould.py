"""Moulds: closed forms, and figures computed apart."""

import math

import pytest

from materials.estimator.mould import bolts_on_closed_seam, bolts_on_open_seam, draft_opening_m
from materials.estimator.seams import estimated_seam_m
from tests.materials.estimator.specs import figures, worked

AREA = math.pi * 1.6**2


def test_bolts_on_an_open_seam():
    # Common practice, no source: n = ceil((L - 2e)/p) + 1.
    bolts = bolts_on_open_seam(2.4, 0.050, 0.150)
    assert bolts == 17
    assert (2.4 - 2 * 0.050) / (bolts - 1) == pytest.approx(0.14375, rel=1e-4)


def test_bolts_on_a_closed_seam():
    # Common practice, no source: n = ceil(L/p); a circle of 1.6 m at 150 mm.
    assert bolts_on_closed_seam(math.pi * 1.6, 0.150) == 34
    assert bolts_on_closed_seam(1.5, 0.150) == 10


@pytest.mark.parametrize(("pieces", "expected_m"), [(2, 5.02654824574), (4, 10.0530964915), (8, 15.0796447372)])
def test_the_seam_of_a_sphere_cut_by_great_circles(pieces, expected_m):
    # Closed form: one, two and three circumferences.
    assert estimated_seam_m(AREA, pieces, 1.0) == pytest.approx(expected_m, rel=1e-6)


def test_the_seam_over_the_root_of_the_area():
    # Closed form: 1.772, 3.545, 5.317.
    assert estimated_seam_m(AREA, 2, 1.0) / math.sqrt(AREA) == pytest.approx(1.77245385091, rel=1e-6)


def test_a_mould_in_four_pieces_and_the_mass_of_one():
    # Computed apart: (skin + 2 x seam x flange width) x areal mass + frames; 8 x 450 mat, gel coat 0.8 kg/m2.
    taken = figures(worked())
    assert taken.area_m2 == pytest.approx(8.04247719319, rel=1e-5)
    assert taken.mould.area_m2 - taken.area_m2 == pytest.approx(1.80955736847, rel=1e-5)
    assert taken.mould.mass_kg == pytest.approx(150.106042389, rel=1e-4)
    assert taken.mould.piece_mass_kg == pytest.approx(37.5265105973, rel=1e-4)


def test_the_opening_that_draft_gains():
    # Closed form: depth x tan(draft).
    assert 1000 * draft_opening_m(0.400, 3.0) == pytest.approx(20.9631117132, rel=1e-5)


def test_a_mould_weighs_two_to_four_times_its_cast():
    # Common practice, no source.
    taken = figures(worked())
    assert 2 <= taken.mould.mass_kg / taken.cast.mass_kg <= 4
