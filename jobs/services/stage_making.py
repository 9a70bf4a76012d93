"""The stages of a commission: made from the studio's templates when a quote is accepted, and added later by hand."""

import secrets
from collections.abc import Iterable

from django.db import transaction

from jobs.figures.budget import WHOLE_JOB
from jobs.models import BudgetLine, Check, Commission, HourEntry, Quote, Section, Stage, StageState, StageTemplate, Step
from studio.accounts.models import User
from studio.audit import record

# No two of these are taken for one another on a dusty label, and without vowels they make no words.
ALPHABET = "34679CDFGHJKMNPQRTVWXY"
LENGTH = 6
INSTALL = "install"


class StageExists(ValueError):
    """The section, or the commission, has that stage already."""


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
            line = budget.get(_place(template, section))
            if not template.optional or (line is not None and line.minutes):
                wanted.append((template, section, line))
    return _kept(quote.commission, wanted)


@transaction.atomic
def add_stage(*, by: User, commission: Commission, template: StageTemplate, section: Section | None) -> Stage:
    """Add a stage that the quote had no hours for."""
    if commission.stages.filter(section=section, key=template.key).exists():
        where = section.name if section else "The whole commission"
        raise StageExists(f"{where} has the stage {template.name.lower()} already; choose another.")
    (made,) = _kept(commission, [(template, section, None)])
    record(actor=by, subject=commission.subject, act=f"Stage added: {made}")
    return made


@transaction.atomic
def remove_stage(*, by: User, stage: Stage) -> None:
    """Take away a stage that nobody has worked on."""
    held = Stage.objects.select_for_update(of=("self",)).select_related("section", "commission").get(pk=stage.pk)
    begun = held.state != StageState.NOT_BEGUN or held.moves.exists()
    tied = HourEntry.objects.filter(stage=held).exists() or any(
        each.exists() for each in (held.issues, held.sent_out, held.photos)
    )
    if begun or tied:
        raise StageInUse(f"{held} has been worked on and stays on the board; remove steps that are not wanted instead.")
    record(actor=by, subject=held.commission.subject, act=f"Stage removed: {held}")
    held.delete()


def _place(template: StageTemplate, section: Section | None) -> tuple[str, str]:
    # Hours that no section needs, such as standing it in place, are budgeted for the job.
    if section is None:
        return WHOLE_JOB if template.key == INSTALL else ("", template.key)
    return section.name, template.key


def _kept(
    commission: Commission, wanted: Iterable[tuple[StageTemplate, Section | None, BudgetLine | None]]
) -> list[Stage]:
    plan = list(wanted)
    codes = _codes(len(plan))
    stages = Stage.objects.bulk_create(
        Stage(
            commission=commission,
            section=section,
            budget=line,
            key=template.key,
            name=template.name,
            position=template.position,
            code=code,
            allowed_minutes=line.minutes if line else 0,
            weight=template.weight,
            waits=template.waits,
            sign_off=template.sign_off,
        )
        for (template, section, line), code in zip(plan, codes, strict=True)
    )
    made = list(zip(stages, [template for template, _, _ in plan], strict=True))
    Step.objects.bulk_create(
        Step(
            stage=stage,
            position=step.position,
            name=step.name,
            hold_hours=step.hold_hours,
            hold_reason=step.hold_reason,
            slower_when_cold=step.slower_when_cold,
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
