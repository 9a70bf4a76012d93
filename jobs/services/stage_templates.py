"""Changes to the studio's own stages: what every commission accepted from now on is given."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.text import slugify

from jobs.models import CheckTemplate, StageTemplate, StepTemplate
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "office"
PARTICULARS = ("name", "position", "for_whole", "optional", "waits", "sign_off", "weight", "crew", "room", "checked_on")
KEY_LENGTH = 12


class TemplateTaken(ValueError):
    """Another stage has that name or stands in that place."""


@transaction.atomic
def add_template(
    *, by: User, particulars: Mapping[str, Any], steps: Sequence[Mapping[str, Any]], checks: Sequence[str]
) -> StageTemplate:
    """Add a stage to those that the studio goes through."""
    row = StageTemplate(key=_free_key(particulars["name"]))
    _keep(row, particulars, steps, checks)
    record(actor=by, subject=SUBJECT, act=f"Stage added: {row.name}", after=_in_words(row))
    return row


@transaction.atomic
def change_template(
    *,
    by: User,
    template: StageTemplate,
    version: int,
    particulars: Mapping[str, Any],
    steps: Sequence[Mapping[str, Any]],
    checks: Sequence[str],
) -> None:
    """Change a stage; commissions that have theirs already keep them as they are."""
    claim(template, version)
    before = _in_words(template)
    _keep(template, particulars, steps, checks)
    record(actor=by, subject=SUBJECT, act=f"Stage changed: {template.name}", before=before, after=_in_words(template))


@transaction.atomic
def remove_template(*, by: User, template: StageTemplate) -> None:
    """Remove a stage from those that commissions are given."""
    record(actor=by, subject=SUBJECT, act=f"Stage removed: {template.name}", before=_in_words(template))
    template.delete()


def _keep(
    row: StageTemplate, particulars: Mapping[str, Any], steps: Sequence[Mapping[str, Any]], checks: Sequence[str]
) -> None:
    others = StageTemplate.objects.exclude(pk=row.pk)
    if others.filter(name__iexact=particulars["name"]).exists():
        raise TemplateTaken(f"There is a stage called {particulars['name']} already; give this one another name.")
    beside = others.filter(position=particulars["position"]).first()
    if beside is not None:
        raise TemplateTaken(f"{beside.name} has the place {beside.position} already; give this one another.")
    for name in PARTICULARS:
        setattr(row, name, particulars[name])
    row.save()
    row.steps.all().delete()
    row.checks.all().delete()
    StepTemplate.objects.bulk_create(
        StepTemplate(stage=row, position=number, **step) for number, step in enumerate(steps, start=1)
    )
    CheckTemplate.objects.bulk_create(
        CheckTemplate(stage=row, position=number, text=text) for number, text in enumerate(checks, start=1)
    )


def next_place() -> int:
    """The place after all the others."""
    last = StageTemplate.objects.aggregate(last=Max("position"))["last"]
    return (last or 0) + 10


def _free_key(name: str) -> str:
    key = slugify(name)[:KEY_LENGTH].strip("-") or "stage"
    taken = set(StageTemplate.objects.values_list("key", flat=True))
    number = 2
    while key in taken:
        key = f"{key[: KEY_LENGTH - 3].rstrip('-')}-{number}"
        number += 1
    return key


def _in_words(row: StageTemplate) -> dict[str, Any]:
    steps = row.steps.all()
    return {
        **{name.replace("_", " "): getattr(row, name) for name in PARTICULARS},
        "steps": [
            f"{step.name}, hold {step.hold_hours.normalize():f} h" if step.hold_hours else step.name for step in steps
        ],
        "checks": [check.text for check in row.checks.all()],
    }
