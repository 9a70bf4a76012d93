"""The stages of a commission: made from the studio's templates when a quote is accepted, and added later by hand."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction

from jobs.figures.budget import WHOLE_JOB
from jobs.models import (
    BudgetLine,
    Check,
    Commission,
    CommissionState,
    HourEntry,
    Quote,
    Section,
    Stage,
    StageState,
    StageTemplate,
    Step,
)
from studio.accounts.models import User
from studio.audit import record

# No two of these are taken for one another on a dusty label, and without vowels they make no words.
ALPHABET = "34679CDFGHJKMNPQRTVWXY"
LENGTH = 6
INSTALL = "install"
NOT_IN_HAND = "Stages come with an accepted quote, and stand still once the piece is handed over."


@dataclass(frozen=True, slots=True)
class Wanted:
    """A stage that is to be: by which template, of which section, with which budget and hours."""

    template: StageTemplate
    section: Section | None
    budget: BudgetLine | None = None
    minutes: int = 0


class StageNotAdded(ValueError):
    """A stage that cannot be added; the sentence says why."""


class StageInUse(ValueError):
    """The stage has been worked on and stays."""


def make_stages(quote: Quote) -> list[Stage]:
    """Give a commission its stages; call it inside the transaction that accepts the quote."""
    budget = {(line.section, line.stage): line for line in BudgetLine.objects.filter(quote=quote)}
    templates = list(StageTemplate.objects.prefetch_related("steps", "checks"))
    sections = list(quote.commission.sections.all())
    wanted = []
    for template in templates:
        for section in [None] if template.for_whole else sections:
            line = budget.get(place_of(template.key, section.name if section else None))
            minutes = line.minutes if line is not None else 0
            if not template.optional or minutes:
                wanted.append(Wanted(template, section, line, minutes))
    return _kept(quote.commission, wanted)


def make_stages_lacking(commission: Commission, minutes: Mapping[tuple[str, str], int]) -> list[Stage]:
    """Give sections that came to be agreed later their stages; ``minutes`` by section and stage are for them.

    Call it inside the transaction that agrees to them.
    """
    there = {budget_place(stage) for stage in commission.stages.select_related("section", "budget")}
    begun = {section for section, _ in there if section}
    names = {section for (section, _), more in minutes.items() if more > 0}
    wanted = []
    for template in StageTemplate.objects.prefetch_related("steps", "checks"):
        for section in [None] if template.for_whole else commission.sections.filter(name__in=names):
            place = place_of(template.key, section.name if section else None)
            is_new = section is not None and section.name not in begun and not template.optional
            if place not in there and (is_new or minutes.get(place, 0) > 0):
                wanted.append(Wanted(template, section, minutes=max(0, minutes.get(place, 0))))
    return _kept(commission, wanted)


@transaction.atomic
def add_stage(*, by: User, commission: Commission, template: StageTemplate, section: Section | None) -> Stage:
    """Add a stage that the quote had no hours for."""
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    if held.state != CommissionState.ACCEPTED:
        raise StageNotAdded(NOT_IN_HAND)
    if held.stages.filter(section=section, key=template.key).exists():
        where = section.name if section else "The whole commission"
        raise StageNotAdded(f"{where} has the stage {template.name.lower()} already; choose another.")
    (made,) = _kept(held, [Wanted(template, section)])
    record(actor=by, subject=held.subject, act=f"Stage added: {made}")
    return made


@transaction.atomic
def remove_stage(*, by: User | None, stage: Stage) -> None:
    """Take away a stage that nobody has worked on."""
    held = Stage.objects.select_for_update(of=("self",)).select_related("section", "commission").get(pk=stage.pk)
    begun = held.state != StageState.NOT_BEGUN or held.moves.exists()
    tied = HourEntry.objects.filter(stage=held).exists() or any(
        each.exists() for each in (held.issues, held.sent_out, held.photos, held.sign_offs)
    )
    if begun or tied:
        raise StageInUse(f"{held} has been worked on and stays on the board; remove steps that are not wanted instead.")
    record(actor=by, subject=held.commission.subject, act=f"Stage removed: {held}")
    held.delete()


def place_of(key: str, section: str | None) -> tuple[str, str]:
    """Where the budget of a stage stands; ``section`` is its section's name."""
    # Hours that no section needs, such as standing it in place, are budgeted for the job.
    if section is None:
        return WHOLE_JOB if key == INSTALL else ("", key)
    return section, key


def budget_place(stage: Stage) -> tuple[str, str]:
    """Where a stage's budget stands, also where its section is called otherwise by now."""
    if stage.budget is not None:
        return stage.budget.section, stage.budget.stage
    return place_of(stage.key, stage.section.name if stage.section else None)


def _kept(commission: Commission, plan: Sequence[Wanted]) -> list[Stage]:
    codes = _codes(len(plan))
    stages = Stage.objects.bulk_create(
        Stage(
            commission=commission,
            section=each.section,
            budget=each.budget,
            key=each.template.key,
            name=each.template.name,
            position=each.template.position,
            code=code,
            allowed_minutes=each.minutes,
            weight=each.template.weight,
            waits=each.template.waits,
            sign_off=each.template.sign_off,
        )
        for each, code in zip(plan, codes, strict=True)
    )
    made = list(zip(stages, [each.template for each in plan], strict=True))
    Step.objects.bulk_create(
        Step(
            stage=stage,
            position=step.position,
            name=step.name,
            hold_hours=step.hold_hours,
            hold_reason=step.hold_reason,
            slower_when_cold=step.slower_when_cold,
            in_booth=step.in_booth,
            is_barrier=step.is_barrier,
            needs_barrier=step.needs_barrier,
        )
        for stage, template in made
        for step in template.steps.all()
    )
    Check.objects.bulk_create(
        Check(stage=stage, position=check.position, text=check.text)
        for stage, template in made
        for check in template.checks.all()
    )
    return stages


def _codes(count: int) -> list[str]:
    """As many codes as are needed, none of them in use."""
    found: list[str] = []
    while len(found) < count:
        drawn = {"".join(secrets.choice(ALPHABET) for _ in range(LENGTH)) for _ in range(count - len(found))}
        taken = set(Stage.objects.filter(code__in=drawn).values_list("code", flat=True))
        found += sorted(drawn - taken - set(found))
    return found
