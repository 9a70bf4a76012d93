"""Material issued to a stage, and what comes back from it."""

import datetime
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from jobs.models import CommissionState, Stage, StageIssue
from materials.models import Lot, Movement, MovementKind
from materials.services.stores import booked, content_of, hold, put_back, take_out
from materials.stock.amounts import DIGITS
from materials.stock.averaging import Held, value_of
from materials.stock.errors import StoresError
from studio.accounts.models import User


@dataclass(frozen=True, slots=True)
class IssuedLot:
    """What a stage has had of a lot, less what came back, at the value at which it went."""

    lot: Lot
    held: Held


@transaction.atomic
def issue(
    *, by: User, stage: Stage, lot: Lot, quantity: Decimal, key: UUID, at: datetime.datetime | None = None
) -> Movement:
    """Issue from a lot to a stage of a commission that is in hand."""
    _in_hand(stage)
    movement = take_out(by=by, lot=lot, quantity=quantity, note=said_of(stage), key=key, at=at)
    StageIssue.objects.get_or_create(movement=movement, stage=stage)
    return movement


@transaction.atomic
def give_back(*, by: User, stage: Stage, lot: Lot, quantity: Decimal, key: UUID) -> Movement:
    """Take back what a stage did not use, at the value at which it was issued."""
    note = said_of(stage)
    hold(lot.item)
    before = booked(key, content_of(MovementKind.RETURNED, lot, quantity, note))
    if before:
        return before
    there = next((each.held for each in issued_lots(stage) if each.lot.pk == lot.pk), Held(Decimal(0), 0))
    if quantity > there.quantity:
        had = f"{there.quantity.normalize():f} {lot.item.unit}"
        raise StoresError("quantity", f"This stage has had {had} of that lot; return at most that.")
    value = value_of(quantity, there)
    movement = put_back(by=by, lot=lot, quantity=quantity, value_minor=value, note=note, key=key)
    StageIssue.objects.create(movement=movement, stage=stage)
    return movement


def issued_lots(stage: Stage) -> list[IssuedLot]:
    """What a stage has of each lot, in the order in which it first went, in one query."""
    found: dict[int, IssuedLot] = {}
    ties = StageIssue.objects.filter(stage=stage, movement__kind__in=[MovementKind.ISSUED, MovementKind.RETURNED])
    for tie in ties.select_related("movement__lot__item").order_by("movement__pk"):
        moved = tie.movement
        before = found.get(moved.lot_id)
        held = before.held if before else Held(Decimal(0), 0)
        found[moved.lot_id] = IssuedLot(moved.lot, held.and_then(-moved.quantity, -moved.value_minor))
    return [each for each in found.values() if round(each.held.quantity, DIGITS) > 0]


def said_of(stage: Stage) -> str:
    """What the ledger says beside a movement, so that it can be read without the board."""
    return f"{stage.commission.number}, {stage}, {stage.code}"


def _in_hand(stage: Stage) -> None:
    if stage.commission.state != CommissionState.ACCEPTED:
        raise StoresError("quantity", "Material goes to commissions that are accepted and not yet handed over.")
