"""Moving stages on: the one place where a stage begins, its steps are done, and it is checked, passed or reopened.

Whoever moves a stage holds its row and its commission's until the transaction
ends, so that the rules are read from what is there. A refusal says in one sentence what is missing.
"""

import datetime
from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from jobs.figures.cure import hold_hours
from jobs.models import Check, SignOffAnswer, Stage, StageMove, StageState, Step
from jobs.queries.stages import cold_figures
from jobs.services.stage_rules import is_open, lacks_to_be_ready, lacks_to_begin, lacks_to_do, lacks_to_pass
from materials.estimator.errors import EstimatorError
from studio.accounts.models import User
from studio.audit import record

WORKED_ON = (StageState.IN_HAND, StageState.REOPENED)


class StageRefused(ValueError):
    """A stage may not be moved so; the sentence says what is missing."""


@transaction.atomic
def begin(*, by: User, stage: Stage, at: datetime.datetime) -> None:
    """Take a stage in hand."""
    held = _held(stage)
    if held.state != StageState.NOT_BEGUN:
        raise StageRefused(f"{held} has begun already.")
    _refuse(f"{held} cannot begin yet", lacks_to_begin(held))
    held.begun_at = at
    _move(held, StageState.IN_HAND, by, at, "begun_at")


@transaction.atomic
def begun_by_work(*, by: User, stage: Stage, at: datetime.datetime) -> bool:
    """Begin a stage because hours were booked on it; False where its turn has not come, for hours are facts."""
    if stage.state != StageState.NOT_BEGUN:
        return False
    held = _held(stage)
    if held.state != StageState.NOT_BEGUN or lacks_to_begin(held):
        return False
    held.begun_at = at
    _move(held, StageState.IN_HAND, by, at, "begun_at", reason="Hours were booked on it")
    return True


@transaction.atomic
def do_step(*, by: User, step: Step, at: datetime.datetime, temperature_c: float | None = None) -> None:
    """Mark a step done, and start the hold that follows it; without a temperature the usual one counts."""
    held = _held(step.stage)
    row = _row(held.steps.filter(pk=step.pk).first())
    if row.done_at is not None:
        return
    _refuse_unless_worked_on(held)
    _refuse(f"“{row.name}” cannot be done yet", lacks_to_do(row, held, at))
    cold = cold_figures()
    temperature = cold.usual_c if temperature_c is None else temperature_c
    try:
        hours = hold_hours(
            float(row.hold_hours), slower_when_cold=row.slower_when_cold, temperature_c=temperature, cold=cold
        )
    except EstimatorError as error:
        raise StageRefused(str(error)[:1].upper() + str(error)[1:]) from error
    row.done_at, row.done_by = at, by
    row.save(update_fields=["done_at", "done_by"])
    if hours:
        held.hold_until = at + datetime.timedelta(hours=hours)
        held.hold_reason = (row.hold_reason or row.name) + (f", at {temperature:g} °C" if row.slower_when_cold else "")
        held.save(update_fields=["hold_until", "hold_reason"])


@transaction.atomic
def take_step_back(*, by: User, step: Step, at: datetime.datetime) -> None:
    """Mark the last step done as not done after all; the hold that it started ends with it."""
    held = _held(step.stage)
    row = _row(held.steps.filter(pk=step.pk).first())
    if row.done_at is None:
        return
    _refuse_unless_worked_on(held)
    later = held.steps.filter(position__gt=row.position, done_at__isnull=False).first()
    if later is not None:
        raise StageRefused(f"“{later.name}” was done after “{row.name}”; take that one back first.")
    done = timezone.localtime(row.done_at)
    row.done_at = row.done_by = None
    row.save(update_fields=["done_at", "done_by"])
    if row.hold_hours and held.is_held(at):
        held.hold_until, held.hold_reason = None, ""
        held.save(update_fields=["hold_until", "hold_reason"])
    record(
        actor=by,
        subject=held.commission.subject,
        act=f"Step taken back on {held}: {row.name}",
        before={"done": f"{done:%Y-%m-%d %H:%M}"},
    )


@transaction.atomic
def look_at(*, by: User, check: Check, seen: bool, at: datetime.datetime) -> None:
    """Tick a check, or take the tick back."""
    held = _held(check.stage)
    row = held.checks.filter(pk=check.pk).first()
    if row is None:
        raise StageRefused("This check has been taken off the stage; load the page again.")
    if held.state in (StageState.NOT_BEGUN, StageState.PASSED):
        raise StageRefused(f"{held} is {held.get_state_display().lower()}; checks are ticked while it is worked on.")
    if seen != (row.seen_at is not None):
        row.seen_at, row.seen_by = (at, by) if seen else (None, None)
        row.save(update_fields=["seen_at", "seen_by"])


@transaction.atomic
def ready_to_check(*, by: User, stage: Stage, at: datetime.datetime) -> None:
    """Say that the work of a stage is done and can be looked at."""
    held = _held(stage)
    if held.state == StageState.READY:
        return
    _refuse_unless_worked_on(held)
    _refuse(f"{held} is not ready yet", lacks_to_be_ready(held, at))
    _move(held, StageState.READY, by, at)


@transaction.atomic
def open_hold_point(*, by: User | None, stage: Stage, approval: SignOffAnswer) -> None:
    """Open the hold point of a stage with the answer that approves it; there is no other way."""
    held, asked = _held(stage), approval.sign_off
    if not approval.approves:
        raise StageRefused(f"{held} waits for an approval; “{approval.get_answer_display().lower()}” is none.")
    if held.sign_off != asked.point:
        raise StageRefused(f"{held} does not wait for “{asked.get_point_display()}”.")
    if held.approval is not None:
        raise StageRefused(f"{held} was signed off by {held.approval.name} before.")
    if held.moves.filter(after=StageState.REOPENED, at__gt=asked.sent_at).exists():
        raise StageRefused(f"{held} was reopened after {asked.full_number} was sent; it is put forward anew.")
    held.approval = approval
    held.save(update_fields=["approval"])
    record(
        actor=by,
        subject=held.commission.subject,
        act=f"Sign-off of {held}: {held.get_sign_off_display()}",
        after={"signed by": approval.name, "sheet": asked.full_number},
    )


@transaction.atomic
def pass_stage(*, by: User, stage: Stage, at: datetime.datetime) -> None:
    """Pass a stage: everything was looked at, nothing is on hold, and its hold point is signed."""
    held = _held(stage)
    if held.state == StageState.PASSED:
        return
    if held.state != StageState.READY:
        raise StageRefused(
            f"{held} is {held.get_state_display().lower()}; it has to be ready to check before it passes."
        )
    _refuse(f"{held} cannot pass yet", lacks_to_pass(held, at))
    held.passed_at = at
    _move(held, StageState.PASSED, by, at, "passed_at")


@transaction.atomic
def reopen(*, by: User | None, stage: Stage, reason: str, at: datetime.datetime) -> None:
    """Send a stage back to work; its checks are looked at and its hold point signed anew."""
    held = _held(stage)
    if held.state not in (StageState.READY, StageState.PASSED):
        raise StageRefused(f"{held} is {held.get_state_display().lower()}; only what is ready or passed is reopened.")
    if not reason.strip():
        raise StageRefused(f"Say why {held} is reopened; the reason stands on the board.")
    if held.approval is not None:
        _record_lapse(held, by, "as it was reopened")
    held.checks.update(seen_at=None, seen_by=None)
    held.passed_at = held.approval = None
    _move(held, StageState.REOPENED, by, at, "passed_at", "approval", reason=reason.strip())


@transaction.atomic
def lapse_approval(*, by: User | None, stage: Stage, why: str) -> None:
    """Close the hold point of a stage again, for what was approved is no longer what is made."""
    held = _held(stage)
    if held.approval is not None:
        _record_lapse(held, by, why)
        held.approval = None
        held.save(update_fields=["approval"])


def _record_lapse(stage: Stage, by: User | None, why: str) -> None:
    if stage.approval is not None:
        record(
            actor=by,
            subject=stage.commission.subject,
            act=f"Sign-off of {stage} lapsed {why}",
            before={"signed by": stage.approval.name, "sheet": stage.approval.sign_off.full_number},
        )


def _held(stage: Stage) -> Stage:
    # The commission's row too: what stands before a stage may not move while its rules are read.
    rows = Stage.objects.select_for_update(of=("self", "commission"), no_key=True)
    held = rows.select_related("section", "commission").get(pk=stage.pk)
    if not is_open(held):
        raise StageRefused(f"{held.commission} is not in hand, so that its stages stand still.")
    return held


def _row(step: Step | None) -> Step:
    if step is None:
        raise StageRefused("This step has been taken off the stage; load the page again.")
    return step


def _refuse_unless_worked_on(stage: Stage) -> None:
    if stage.state == StageState.NOT_BEGUN:
        raise StageRefused(f"{stage} has not begun; begin it first.")
    if stage.state not in WORKED_ON:
        raise StageRefused(f"{stage} is {stage.get_state_display().lower()}; reopen it before more is done on it.")


def _refuse(what: str, lacks: Sequence[str]) -> None:
    if lacks:
        listed = lacks[0] if len(lacks) == 1 else f"{', '.join(lacks[:-1])}, and {lacks[-1]}"
        raise StageRefused(f"{what}: {listed}.")


def _move(
    stage: Stage, after: StageState, by: User | None, at: datetime.datetime, *fields: str, reason: str = ""
) -> None:
    before, stage.state = stage.state, after
    stage.save(update_fields=["state", *fields])
    StageMove.objects.create(stage=stage, at=at, by=by, before=before, after=after, reason=reason)
