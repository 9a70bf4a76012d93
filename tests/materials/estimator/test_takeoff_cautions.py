"""Cautions: what a practitioner would stop at, and what is no reason to."""

import pytest

from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from materials.estimator.shapes import Box, Cylinder, Sphere
from materials.estimator.spec import Block, JobSpec, LayUp, Ply
from materials.estimator.takeoff import take_off
from tests.materials.estimator.specs import codes, form, job, section, with_figure, worked

CUBE = Block(0.5, 0.5, 0.5)
THIN = LayUp("Thin", 0.6, (Ply("csm", 0.3, 0.30, 2),))


def text(taken, code):
    (found,) = [caution.text for caution in taken.warnings if caution.code == code]
    return found


def test_a_small_light_section_has_none():
    assert worked(Sphere(0.5), block=CUBE).warnings == ()


def test_foam_of_which_less_than_a_quarter_is_used():
    # A ball of 0.5 m from a block of 1.728 m3: pi 0.5^3 / 6 of it stays, four per cent.
    assert text(worked(Sphere(0.5)), "foam_yield").startswith("Only 4% of the 1.73 m³ of foam bought stays")
    assert "foam_yield" not in codes(worked(Sphere(0.5), block=CUBE))


def test_resin_less_than_twice_the_mat():
    lean = LayUp("Lean", 0.6, (Ply("csm", 0.45, 0.45, 3),))
    assert text(worked(cast_layup=lean), "lean_cast") == (
        "The cast's lay-up Lean has 1.22 times as much resin as mat, and hand-laid mat takes at least twice its "
        "weight; check the glass fraction."
    )
    assert "lean_mould" in codes(worked(mould_layup=lean))


def test_woven_glass_takes_less_resin_without_a_caution():
    woven = LayUp("Woven", 0.6, (Ply("woven", 0.6, 0.48, 2),))
    assert not {"lean_cast", "lean_mould"} & codes(worked(cast_layup=woven, mould_layup=woven))


@pytest.mark.parametrize(
    ("diameter_m", "advice"),
    [
        (1.6, "over the 25 kg one person lifts: see its handling sheet"),
        (2.6, "over 50 kg: use a hoist, and plan the lift"),
    ],
)
def test_a_piece_too_heavy_for_one_or_for_two(diameter_m, advice):
    taken = worked(Sphere(diameter_m))
    assert advice in text(taken, "heavy_piece")
    assert text(taken, "heavy_piece").startswith("A mould piece weighs ")


def test_a_cast_is_lifted_with_its_metal():
    taken = worked(Sphere(0.8), metal_kg=30.0)
    assert "with its 30 kg of metal" in text(taken, "heavy_cast")
    assert "heavy_cast" not in codes(worked(Sphere(0.8)))


def test_a_flat_panel():
    assert "largest flat face is 1.00 m²" in text(worked(Box(1.0, 1.0, 0.5)), "flat_panel")
    assert "flat_panel" in codes(worked(Cylinder(1.0, 0.3)))
    assert "flat_panel" not in codes(worked(Box(0.7, 0.7, 0.7)))
    assert "flat_panel" not in codes(worked(form(largest_flat_m2=0.5)))


def test_more_layers_than_one_session_takes():
    seven = LayUp("Seven", 0.6, (Ply("tissue", 0.03, 0.10), Ply("csm", 0.45, 0.30, 7)))
    assert "plan 3 sessions with a night between them" in text(worked(cast_layup=seven), "many_layers")
    assert "many_layers" not in codes(worked())


def test_a_mould_lighter_than_its_cast():
    assert "light_mould" in codes(worked(mould_layup=THIN, frame_kg_per_piece=0.0, pieces=2))
    assert "light_mould" not in codes(worked())


def test_a_piece_too_large_even_when_cut_at_its_longest():
    assert "spans at least 2.6 m" in text(worked(Cylinder(0.5, 2.6), pieces=1), "large_piece")
    assert "large_piece" not in codes(worked(Cylinder(0.5, 2.6), pieces=2))
    # 5 m across, four pieces: cut across once either way, and the height of 5 m stays whole.
    assert "spans at least 5.0 m" in text(worked(Sphere(5.0), pieces=4), "large_piece")
    assert "spans at least 2.5 m" in text(worked(Sphere(5.0), pieces=8), "large_piece")


def test_cautions_name_their_section():
    taken = take_off(job(section(Sphere(0.5), block=CUBE, name="Small"), section(Sphere(3.0), name="Large")))
    assert {caution.section for caution in taken.warnings} == {"Large"}


def test_a_threshold_is_the_studios():
    assert "heavy_piece" not in {
        caution.code for caution in take_off(with_figure(job(), "one_person_lift", 40.0)).warnings
    }


def test_a_job_needs_a_section():
    spec = job()
    with pytest.raises(Missing, match=r"^Sections is missing; give at least one\.$"):
        JobSpec("Empty", (), spec.allowances, 2.0, spec.coefficients)


def test_two_sections_of_one_name_are_refused():
    with pytest.raises(EstimatorError, match=r"^Two sections are called Ball; give each a name of its own\.$"):
        job(section(), section())


def test_a_catalyst_that_will_not_cure_is_refused():
    spec = job()
    with pytest.raises(OutOfRange, match=r"^Catalyst is 0\.5 %; it must be between 1 and 4 %\."):
        take_off(JobSpec("Cold", spec.sections, spec.allowances, 0.5, spec.coefficients, spec.norms))


def test_a_figure_the_job_came_without_is_named():
    spec = job()
    without = {key: figure for key, figure in spec.coefficients.items() if key != "bolt_pitch"}
    with pytest.raises(Missing, match="Studio figure bolt_pitch is missing; restore it among the studio's figures"):
        take_off(JobSpec("Test", spec.sections, spec.allowances, 2.0, without, spec.norms))


@pytest.mark.parametrize("nonsense", [float("nan"), float("inf"), 0.0, -1.0])
def test_a_form_that_is_none_is_refused(nonsense):
    with pytest.raises(OutOfRange, match=r"^Skin area is "):
        section(form(area_m2=nonsense))
