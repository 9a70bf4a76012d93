"""Hours: norms, what drives them, and learning over casts from one mould."""

from dataclasses import replace

import pytest

from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.hours import crawford_sum
from materials.estimator.spec import Norm
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import figures, hours, job, line, section, with_figure, worked


def test_an_eighty_per_cent_curve_over_ten_units():
    # A published table of the unit learning curve, from memory: the tenth takes 0.477, ten together 6.315.
    assert crawford_sum(10, 0.8) == pytest.approx(6.315, abs=0.001)
    assert crawford_sum(10, 0.8) - crawford_sum(9, 0.8) == pytest.approx(0.477, abs=0.0005)


def test_by_the_unit_model_the_second_takes_the_rate_of_the_first():
    assert crawford_sum(2, 0.9) == pytest.approx(1.9, rel=1e-12)
    assert crawford_sum(1, 0.9) == 1.0
    assert crawford_sum(7, 1.0) == 7.0


def test_it_refuses_a_rate_that_is_none():
    with pytest.raises(OutOfRange, match=r"^Learning rate is 90; it must be between 0\.5 and 1\.$"):
        crawford_sum(3, 90)


def test_cast_and_finish_learn_and_nothing_else():
    one, many = worked(metal_kg=10.0), worked(pulls=6, metal_kg=10.0)
    learnt = crawford_sum(6, 0.9)
    for stage, step in (("cast", "laminate"), ("cast", "join"), ("finish", "prepare")):
        assert hours(many, stage, step).likely == pytest.approx(learnt * hours(one, stage, step).likely)
    for stage, step in (("metalwork", "fabricate"), ("crate", "build")):
        assert hours(many, stage, step).likely == pytest.approx(6 * hours(one, stage, step).likely)
    assert hours(many, "pattern", "carve").likely == hours(one, "pattern", "carve").likely


def test_learning_begins_again_with_each_mould():
    one, more = worked(), worked(pulls=20, count=2)
    learnt = 2 * (crawford_sum(15, 0.9) + crawford_sum(5, 0.9))
    assert hours(more, "cast", "gel_coat").likely == pytest.approx(learnt * hours(one, "cast", "gel_coat").likely)


def test_the_working_names_the_learning_curve():
    (term,) = [each for each in hours(worked(pulls=6), "cast", "gel_coat").terms if "learning" in each.label]
    assert "unit (Crawford) curve" in term.origin
    assert "n^log₂(0.9)" in term.origin


def test_each_step_follows_what_drives_it():
    # Common practice, no source: grade B, 4 pieces, 3 layers, 2 coats each of primer and topcoat.
    taken = worked(metal_kg=40.0)
    area, seam = figures(taken).area_m2, figures(taken).seam_m
    assert hours(taken, "pattern", "carve").likely == pytest.approx(4.5 * area)
    assert hours(taken, "cast", "laminate").likely == pytest.approx(0.3 * 3 * area)
    assert hours(taken, "finish", "prime").likely == pytest.approx(0.2 * 2 * area)
    assert hours(taken, "cast", "join").likely == pytest.approx(0.75 * seam)
    assert hours(taken, "mould", "demould_and_drill").likely == pytest.approx(2.5 * 4)
    assert hours(taken, "metalwork", "fabricate").likely == pytest.approx(0.15 * 40)
    assert hours(taken, "metalwork", "fit").likely == pytest.approx(12)


def test_low_likely_and_high_are_those_of_the_norm():
    carve = hours(worked(), "pattern", "carve")
    area = figures(worked()).area_m2
    assert (carve.low, carve.high) == (pytest.approx(3 * area), pytest.approx(6 * area))


@pytest.mark.parametrize(("grade", "to_a_metre"), [("A", 7.5), ("B", 4.5), ("C", 1.5)])
def test_a_better_grade_takes_longer_to_carve(grade, to_a_metre):
    taken = worked(grade=grade)
    assert hours(taken, "pattern", "carve").likely == pytest.approx(to_a_metre * figures(taken).area_m2)


def test_steps_that_are_not_done_take_no_hours():
    steps = {(each.stage, each.step) for each in worked(coats=(), crated=False).hours}
    assert ("finish", "fair_seams") in steps
    for left_out in (("finish", "prime"), ("finish", "prepare"), ("crate", "build"), ("metalwork", "fit")):
        assert left_out not in steps


def test_a_grade_that_is_not_polished_takes_no_hours_for_it():
    assert not any(each.step == "polish" for each in worked(grade="C").hours)


def test_a_step_without_a_norm_is_asked_for():
    spec = job()
    without = tuple(norm for norm in spec.norms if (norm.step, norm.grade) != ("carve", "B"))
    with pytest.raises(Missing) as refused:
        take_off(replace(spec, norms=without))
    assert str(refused.value) == "Norm for pattern, carve, grade B is missing; give one, or 0 hours."


def test_a_studio_may_drive_a_step_by_something_else():
    spec = job()
    kept = tuple(norm for norm in spec.norms if (norm.stage, norm.step, norm.grade) != ("mould", "laminate", "B"))
    by_layer = Norm("mould", "laminate", "B", "m2_layer", 0.2, 0.25, 0.3)
    taken = take_off(replace(spec, norms=(*kept, by_layer)))
    assert hours(taken, "mould", "laminate").likely == pytest.approx(0.25 * 8 * figures(taken).area_m2)


def test_a_norm_is_refused_out_of_order():
    with pytest.raises(OutOfRange, match=r"^Norm cast, join, high is 1 h; it must be at least 2 h\.$"):
        Norm("cast", "join", "B", "m_seam", 1.0, 2.0, 1.0)


def test_the_rate_is_the_studios():
    quicker = take_off(with_figure(job(section(pulls=6)), "learning_rate", 0.8))
    assert hours(quicker, "cast", "join").likely < hours(worked(pulls=6), "cast", "join").likely


def test_metal_and_crates_are_counted_to_each_cast():
    taken = worked(metal_kg=35.0, pulls=3)
    assert line(taken, "metalwork", "steel").net == pytest.approx(105)
    assert line(taken, "metalwork", "steel").buy == pytest.approx(115.5)
    assert line(taken, "metalwork", "galvanising").buy == pytest.approx(105)
    # Geometry: 1.8 m cube inside, by common practice 15 % cutting waste and 1.8 m of batten to a square metre.
    assert line(taken, "crate", "crate_plywood").net == pytest.approx(3 * 6 * 1.8**2)
    assert line(taken, "crate", "crate_batten").net == pytest.approx(3 * 6 * 1.8**2 * 1.8)
