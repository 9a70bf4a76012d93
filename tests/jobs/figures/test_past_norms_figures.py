"""A finished stage against the norms, by the take-off that its quote kept."""

import json
from dataclasses import replace
from typing import Any

import pytest

from jobs.figures.frozen import frozen_take_off
from jobs.figures.past_norms import PastStage, past_stage, scaled
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import TakeOff
from materials.estimator.spec import Norm
from tests.materials.estimator.specs import STUDIO, worked

NORMS = {(norm.stage, norm.step, norm.grade): norm for norm in STUDIO.norms}
TAKEN = worked(pulls=3, metal_kg=12.0)


def kept(taken: TakeOff = TAKEN) -> dict[str, Any]:
    spec = {"sections": [{"name": "Ball", "grade": "B"}]}
    return json.loads(json.dumps({"spec": spec, "take_off": frozen_take_off(taken)}))


def past(stage: str, minutes: int = 600, norms: dict[tuple[str, str, str], Norm] = NORMS) -> PastStage:
    found = past_stage(stage, "Ball", minutes, kept(), norms)
    assert found is not None
    return found


@pytest.mark.parametrize("stage", ["pattern", "mould", "cast", "finish", "metalwork", "crate"])
def test_by_unchanged_norms_it_gives_the_hours_of_the_quote(stage: str):
    quoted = sum(line.likely for line in TAKEN.hours if line.stage == stage)
    assert past(stage).norm_hours == pytest.approx(quoted, rel=1e-12)


@pytest.mark.parametrize("stage", ["mould", "cast", "metalwork"])
def test_norms_changed_since_count_as_they_are_now(stage: str):
    doubled = {key: scaled(norm, 2.0) if key[0] == stage else norm for key, norm in NORMS.items()}
    assert past(stage, norms=doubled).norm_hours == pytest.approx(2 * past(stage).norm_hours, rel=1e-12)


def test_a_norm_that_was_nothing_counts_by_the_amount_of_its_step():
    polish = NORMS["finish", "polish", "B"]
    before = {**NORMS, ("finish", "polish", "B"): replace(polish, low=0.0, likely=0.0, high=1.0)}
    taken = worked(pulls=3, metal_kg=12.0)
    lines = tuple(replace(line, likely=0.0) if line.step == "polish" else line for line in taken.hours)
    found = past_stage("finish", "Ball", 60, kept(replace(taken, hours=lines)), NORMS)
    assert found is not None
    assert found.norm_hours == pytest.approx(past("finish").norm_hours, rel=1e-12)
    assert past("finish", norms=before).norm_hours < found.norm_hours


def test_it_is_measured_by_what_was_made():
    ball = TAKEN.sections[0]
    assert past("pattern").amounts == {"m2": ball.area_m2}
    assert past("mould").amounts == {"m2": ball.area_m2, "m_seam": ball.seam_m, "piece": 4}
    assert past("cast").amounts["m2"] == pytest.approx(3 * ball.area_m2)
    assert past("metalwork").amounts == {"kg": pytest.approx(36)}
    assert past("crate").amounts == {"object": 3}
    assert past("cast", minutes=90).hours == 1.5


def test_what_no_norm_drives_is_left_out():
    assert past_stage("install", "Ball", 60, kept(), NORMS) is None
    assert past_stage("cast", "Lid", 60, kept(), NORMS) is None


def test_a_norm_is_scaled_in_proportion():
    norm = Norm("cast", "laminate", "B", "m2_layer", 0.2, 0.3, 0.45)
    assert scaled(norm, 1.25) == replace(norm, low=0.25, likely=0.375, high=0.5625)


@pytest.mark.parametrize("factor", [0.0, -1.0, float("nan"), float("inf")])
def test_it_refuses_a_factor_that_leaves_no_norm(factor: float):
    with pytest.raises(EstimatorError, match="factor of the norms"):
        scaled(Norm("cast", "join", "B", "m_seam", 0.5, 0.75, 1.0), factor)
