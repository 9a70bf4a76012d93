"""The mould: seams, returns, bolts and what lies on them."""

import math

import pytest

from materials.estimator.errors import OutOfRange
from materials.estimator.laminate import laminate_kg_m2
from materials.estimator.mould import bolts_on_closed_seam, bolts_on_open_seam, draft_opening_m
from materials.estimator.seams import estimated_seam_m
from materials.estimator.shapes import Cap, form_of
from materials.estimator.spec import LayUp, MouldSpec, Ply
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import figures, form, has_line, hours, job, line, section, with_figure, worked

MOULD = LayUp("Mould", 0.8, (Ply("csm", 0.45, 0.30, 8),))


def test_an_entered_seam_comes_before_a_measured_one_and_that_before_an_estimate():
    estimated = 2 * math.pi * 1.6
    assert figures(worked()).seam_m == pytest.approx(estimated)
    assert figures(worked(form(seam_m=11.0))).seam_m == 11.0
    assert figures(worked(form(seam_m=11.0), seam_m=12.0)).seam_m == 12.0


def test_the_working_says_how_the_seam_came_about():
    def origin(taken):
        return next(term.origin for term in line(taken, "mould", "parting_sheet").terms if term.label == "seam")

    assert origin(worked()) == "estimated: √(π × skin area) × log₂(4 pieces) × 1 for the form"
    assert origin(worked(seam_m=12.0)) == "entered"
    assert origin(worked(form(seam_m=11.0))) == "measured on the model"


def test_figures_take_more_seam_than_a_ball():
    spec = job()
    more = take_off(with_figure(spec, "seam_form_factor", 1.3))
    assert figures(more).seam_m == pytest.approx(1.3 * figures(take_off(spec)).seam_m)


def test_returns_stand_on_both_sides_of_every_seam():
    taken = figures(worked(seam_m=10.0, return_width_m=0.1))
    assert taken.mould.area_m2 == pytest.approx(taken.area_m2 + 2 * 10.0 * 0.1)


def test_a_mould_in_one_piece_has_a_return_round_its_rim_and_nothing_to_bolt():
    # The rim of a cap is the circle it is cut by.
    cap = Cap(2.0, 1.0)
    taken = worked(cap, pieces=1, return_width_m=0.1)
    assert figures(taken).mould.area_m2 == pytest.approx(form_of(cap).area_m2 + 2 * math.pi * 0.1)
    assert (figures(taken).seam_m, figures(taken).mould.bolts) == (0.0, 0)
    for stage, material in (("mould", "mould_bolt"), ("mould", "parting_sheet")):
        assert not has_line(taken, stage, material)
    assert not any(hours.step in ("join", "fair_seams") for hours in taken.hours)
    assert hours(taken, "mould", "part_walls").likely == pytest.approx(0.6 * 2 * math.pi)


def test_a_mould_in_one_piece_is_joined_along_a_rim_that_is_entered():
    taken = worked(Cap(2.0, 1.0), pieces=1, seam_m=6.3)
    assert figures(taken).seam_m == 6.3
    assert "strip width" in line(taken, "cast", "glass_csm_450").formula


def test_more_layers_on_the_returns_lie_on_the_returns_alone():
    plain = figures(worked(mould_layup=MOULD))
    stiff = figures(worked(mould_layup=LayUp("Stiff", 0.8, MOULD.plies, return_extra_layers=2)))
    returns = plain.mould.area_m2 - plain.area_m2
    more = returns * laminate_kg_m2(2 * 0.45, 0.30)
    assert stiff.mould.mass_kg - plain.mould.mass_kg == pytest.approx(more)
    extra = line(worked(mould_layup=LayUp("Stiff", 0.8, MOULD.plies, 2)), "mould", "glass_csm_450").net
    assert extra - line(worked(mould_layup=MOULD), "mould", "glass_csm_450").net == pytest.approx(returns * 0.9)


def test_glasses_of_one_kind_and_weight_make_one_line():
    layup = LayUp("Mixed", 0.8, (Ply("csm", 0.45, 0.30, 2), Ply("woven", 0.6, 0.48), Ply("csm", 0.45, 0.30)))
    taken = worked(mould_layup=layup)
    area = figures(taken).mould.area_m2
    assert line(taken, "mould", "glass_csm_450").net == pytest.approx(area * 3 * 0.45)
    assert line(taken, "mould", "glass_woven_600").net == pytest.approx(area * 0.6)


def test_bolts_stand_by_the_seam():
    assert figures(worked(seam_m=2.4)).mould.bolts == 17
    assert figures(worked(seam_m=2.4, seam_closed=True)).mould.bolts == 16
    assert line(worked(seam_m=2.4, count=3), "mould", "mould_bolt").buy == 51


@pytest.mark.parametrize(("seam_m", "bolts"), [(0.05, 2), (0.10, 2), (0.25, 2), (0.2501, 3), (0.40, 3)])
def test_a_seam_carries_a_bolt_near_each_end_at_least(seam_m, bolts):
    assert bolts_on_open_seam(seam_m, 0.05, 0.15) == bolts


def test_a_hair_of_floating_point_takes_no_bolt():
    assert bolts_on_closed_seam(0.1 + 0.2, 0.3) == 1


@pytest.mark.parametrize(("seam_m", "pitch_m"), [(0.0, 0.15), (math.nan, 0.15), (2.4, 0.0), (2.4, math.inf)])
def test_it_refuses_a_seam_or_pitch_that_is_none(seam_m, pitch_m):
    with pytest.raises(OutOfRange):
        bolts_on_open_seam(seam_m, 0.05, pitch_m)
    with pytest.raises(OutOfRange):
        bolts_on_closed_seam(seam_m, pitch_m)


def test_it_refuses_what_no_mould_has():
    with pytest.raises(OutOfRange, match=r"^Seam form factor is 0; it must be between 0\.5 and 5\.$"):
        estimated_seam_m(8.0, 4, 0.0)
    with pytest.raises(OutOfRange, match=r"^Mould pieces is 0; it must be between 1 and 60\.$"):
        MouldSpec(0, None, 0.09, MOULD, 6.0)
    with pytest.raises(OutOfRange, match=r"^Seam is 0 m; .* Leave it out to have it estimated\.$"):
        MouldSpec(4, 0.0, 0.09, MOULD, 6.0)
    with pytest.raises(OutOfRange, match=r"^Return width is 90 m; it must be between 0\.02 and 0\.5 m\.$"):
        MouldSpec(4, None, 90.0, MOULD, 6.0)
    with pytest.raises(OutOfRange, match=r"^Draft is 90 degrees;"):
        draft_opening_m(0.4, 90.0)


def test_frames_stand_behind_every_piece():
    taken = worked(pieces=6, frame_kg_per_piece=7.0, count=2)
    assert line(taken, "mould", "backing_frame").buy == 2 * 6 * 7.0
    assert hours(taken, "mould", "frames").likely == pytest.approx(2 * 6 * 3.0)


def test_the_release_of_a_mould_covers_its_returns_too():
    taken = worked(section().form)
    assert line(taken, "mould", "release_film").buy == pytest.approx(figures(taken).mould.area_m2 / 8)
