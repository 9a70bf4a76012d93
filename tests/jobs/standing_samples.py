"""An accepted commission with its stages, and hours on them, for tests of how it stands."""

import datetime
import uuid
from decimal import Decimal

from django.utils import timezone

from jobs.models import Commission, Decision, Extra, HourEntry, Stage, StageState
from jobs.services.quotes import answer
from materials.models import Item
from studio.accounts.models import User
from tests.factories import make_commission, make_issued, make_section


def accepted(by: User, *names: str, title: str = "The Long Pear", extras: tuple[str, ...] = ()) -> Commission:
    """A commission of sections alike whose quote was accepted today; whoever calls has priced everything."""
    commission = make_commission(title)
    for name in names or ("Base",):
        make_section(commission, name, metal="20 kg")
    for key in extras:
        item = Item.objects.get(key=key)
        Extra.objects.create(commission=commission, item=item, label=item.name, quantity=Decimal(3))
    quote = make_issued(commission, by)
    answer(by=by, quote=quote, decision=Decision.ACCEPTED, said_by="R. Osei", note="", on=timezone.localdate())
    commission.refresh_from_db()
    return commission


def stage_of(commission: Commission, key: str, section: str = "Base") -> Stage:
    return commission.stages.get(section__name=section, key=key)


def book(stage: Stage, by: User, minutes: int, days_ago: int = 0) -> HourEntry:
    """Hours on a stage, that many days back."""
    return HourEntry.objects.create(
        person=by,
        booked_by=by,
        stage=stage,
        minutes=minutes,
        work_date=timezone.localdate() - datetime.timedelta(days=days_ago),
        key=uuid.uuid4(),
        fingerprint="as made",
    )


def pass_all(stage: Stage) -> None:
    """Every step done and the stage passed, as if its rules had been met."""
    stage.steps.update(done_at=timezone.now())
    Stage.objects.filter(pk=stage.pk).update(state=StageState.PASSED, passed_at=timezone.now())


def do_steps(stage: Stage, count: int) -> None:
    """Its first steps done, and the stage in hand."""
    first = list(stage.steps.values_list("pk", flat=True)[:count])
    stage.steps.filter(pk__in=first).update(done_at=timezone.now())
    Stage.objects.filter(pk=stage.pk).update(state=StageState.IN_HAND, begun_at=timezone.now())
