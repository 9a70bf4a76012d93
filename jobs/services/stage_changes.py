"""Changes to one commission's own stage: its steps, holds and checks, and the hours allowed."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction
from django.db.models import F

from jobs.models import Check, Stage, StageState, Step
from jobs.services.stages import StageRefused
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

PARTICULARS = ("name", "allowed_minutes", "waits", "sign_off", "weight")
STEP = ("name", "hold_hours", "hold_reason", "slower_when_cold", "in_booth", "is_barrier", "needs_barrier")
# Out of the way of the places that are given anew, for no two steps may have one place even for a moment.
ASIDE = 1000


@transaction.atomic
def change_stage(
    *,
    by: User,
    stage: Stage,
    version: int,
    particulars: Mapping[str, Any],
    steps: Sequence[Mapping[str, Any]],
    checks: Sequence[str],
) -> None:
    """Change a stage that has not passed; a row of ``steps`` carries the ``pk`` of the step that it was, if any."""
    claim(stage, version)
    rows = Stage.objects.select_for_update(of=("self", "commission"), no_key=True)
    held = rows.select_related("section", "commission").get(pk=stage.pk)
    if held.state == StageState.PASSED:
        raise StageRefused(f"{held} has passed; reopen it before its steps are changed.")
    before = _in_words(held)
    for name in PARTICULARS:
        setattr(held, name, particulars[name])
    if held.sign_off != before["hold point"]:
        held.approval = None
    held.save(update_fields=[*PARTICULARS, "approval"])
    _keep_steps(held, steps)
    _keep_checks(held, checks)
    record(
        actor=by,
        subject=held.commission.subject,
        act=f"Stage changed: {held}",
        before=before,
        after=_in_words(held),
    )


def _keep_steps(stage: Stage, wanted: Sequence[Mapping[str, Any]]) -> None:
    there = {step.pk: step for step in stage.steps.all()}
    kept = {row["pk"] for row in wanted if row.get("pk") in there}
    for step in there.values():
        if step.pk not in kept and step.done_at is not None:
            raise StageRefused(f"“{step.name}” has been done and stays; take it back on the stage's page first.")
    stage.steps.exclude(pk__in=kept).delete()
    stage.steps.update(position=F("position") + ASIDE)
    done_until = 0
    for number, row in enumerate(wanted, start=1):
        step = there.get(row.get("pk", 0)) or Step(stage=stage)
        for name in STEP:
            setattr(step, name, row[name])
        if step.done_at is not None and done_until + 1 < number:
            raise StageRefused(f"“{step.name}” has been done; steps that are not done come after it.")
        done_until = number if step.done_at is not None else done_until
        step.position = number
        step.save()


def _keep_checks(stage: Stage, wanted: Sequence[str]) -> None:
    there = {check.text: check for check in stage.checks.all()}
    stage.checks.exclude(text__in=wanted).delete()
    for number, text in enumerate(wanted, start=1):
        check = there.get(text) or Check(stage=stage, text=text)
        check.position = number
        check.save()


def _in_words(stage: Stage) -> dict[str, Any]:
    return {
        "name": stage.name,
        "minutes allowed": stage.allowed_minutes,
        "begins": stage.waits,
        "hold point": stage.sign_off,
        "weight": stage.weight,
        "steps": [
            f"{step.name}, hold {step.hold_hours.normalize():f} h" if step.hold_hours else step.name
            for step in stage.steps.all()
        ],
        "checks": [check.text for check in stage.checks.all()],
    }
