"""Work that a firm outside does, from the order to the bill, and the material that goes with it."""

import datetime
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from jobs.models import Commission, CommissionState, SentOutWork, Stage, StageIssue
from materials.models import Lot, Movement, MovementKind
from materials.services.stores import take_out
from materials.stock.errors import StoresError
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim
from studio.money import format_minor


class SentOutError(ValueError):
    """A change that sent-out work refuses; ``field`` is what has to be altered."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Particulars:
    """What is known of a piece of sent-out work."""

    what: str
    firm: str
    stage: Stage | None
    ordered_on: datetime.date
    due_back: datetime.date | None
    out_on: datetime.date | None
    back_on: datetime.date | None
    agreed_minor: int
    charged_minor: int | None


@transaction.atomic
def order(*, by: User, commission: Commission, particulars: Particulars, currency: str) -> SentOutWork:
    """Write an order down; the very same order a second time is the one that there is."""
    held = Commission.objects.select_for_update().get(pk=commission.pk)
    if held.state != CommissionState.ACCEPTED:
        raise SentOutError("what", "Work is sent out for a commission once its quote is accepted.")
    _check(held, particulars)
    values = _fields(particulars)
    same = SentOutWork.objects.filter(commission=held, currency=currency, **values).first()
    if same:
        return same
    work = SentOutWork.objects.create(commission=held, currency=currency, **values)
    act = f"Sent-out work ordered: {work.what[:90]}"
    record(actor=by, subject=held.subject, act=act, after=_said(particulars, currency), has_money=True)
    return work


@transaction.atomic
def change(*, by: User, work: SentOutWork, version: int, particulars: Particulars) -> None:
    """Change an order, or write down that it went, came back, or was charged."""
    claim(work, version)
    was = SentOutWork.objects.select_related("commission", "stage__section").get(pk=work.pk)
    _check(was.commission, particulars)
    SentOutWork.objects.filter(pk=work.pk).update(**_fields(particulars))
    record(
        actor=by,
        subject=was.commission.subject,
        act=f"Sent-out work changed: {particulars.what[:90]}",
        before=_said(particulars_of(was), was.currency),
        after=_said(particulars, was.currency),
        has_money=True,
    )


@transaction.atomic
def send_material(*, by: User, work: SentOutWork, lot: Lot, quantity: Decimal, key: UUID) -> Movement:
    """Material of the studio's that goes with the work; it counts as issued to the stage the work belongs to."""
    if work.back_on:
        raise StoresError("quantity", "This work is back already; material goes with work that is still to come back.")
    note = f"{work.commission.number}, with {work.what} to {work.firm}"[:160]
    movement = take_out(by=by, lot=lot, quantity=quantity, note=note, key=key, kind=MovementKind.SENT)
    work.went_with_it.add(movement)
    if work.stage:
        StageIssue.objects.get_or_create(movement=movement, stage=work.stage)
    return movement


def particulars_of(work: SentOutWork) -> Particulars:
    """The particulars of a row."""
    return Particulars(
        work.what,
        work.firm,
        work.stage,
        work.ordered_on,
        work.due_back,
        work.out_on,
        work.back_on,
        work.agreed_minor,
        work.charged_minor,
    )


def _fields(particulars: Particulars) -> dict[str, object]:
    return {name: getattr(particulars, name) for name in Particulars.__slots__}


def _check(commission: Commission, given: Particulars) -> None:
    if given.stage and given.stage.commission_id != commission.pk:
        raise SentOutError("stage", "Choose a stage of this commission.")
    if given.out_on and given.out_on < given.ordered_on:
        raise SentOutError("out_on", f"It was ordered on {given.ordered_on}; it cannot go out before.")
    if given.back_on and not given.out_on:
        raise SentOutError("out_on", "It came back, so it went out: enter the day it went.")
    if given.back_on and given.out_on and given.back_on < given.out_on:
        raise SentOutError("back_on", f"It went out on {given.out_on}; it cannot be back before.")


def _said(given: Particulars, currency: str) -> dict[str, object]:
    charged = given.charged_minor
    return {
        "what": given.what,
        "firm": given.firm,
        "stage": str(given.stage or ""),
        "ordered": given.ordered_on,
        "due back": given.due_back,
        "out": given.out_on,
        "back": given.back_on,
        "price agreed": format_minor(given.agreed_minor, currency),
        "price charged": None if charged is None else format_minor(charged, currency),
    }
