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
    """What a stage has had of a lot for a cast, less what came back, at the value at which it went."""

    lot: Lot
    held: Held
    cast: int | None


@transaction.atomic
def issue(
    *,
    by: User,
    stage: Stage,
    lot: Lot,
    quantity: Decimal,
    key: UUID,
    cast: int | None = None,
    at: datetime.datetime | None = None,
) -> Movement:
    """Issue from a lot to a stage of a commission that is in hand, for one of its casts or for no one alone."""
    _in_hand(stage)
    if cast is not None and not 1 <= cast <= stage.casts:
        raise StoresError("cast", _no_such_cast(stage, cast))
    movement = take_out(by=by, lot=lot, quantity=quantity, note=said_of(stage, cast), key=key, at=at)
    StageIssue.objects.get_or_create(movement=movement, stage=stage, cast=cast)
    return movement


@transaction.atomic
def give_back(*, by: User, stage: Stage, lot: Lot, quantity: Decimal, key: UUID, cast: int | None = None) -> Movement:
    """Take back what a stage did not use, at the value at which it was issued."""
    note = said_of(stage, cast)
    hold(lot.item)
    before = booked(key, content_of(MovementKind.RETURNED, lot, quantity, note))
    if before:
        return before
    there = had_of(stage, lot, cast) or Held(Decimal(0), 0)
    if quantity > there.quantity:
        had = f"{there.quantity.normalize():f} {lot.item.unit}"
        raise StoresError("quantity", f"{stage.named(cast)} has had {had} of that lot; return at most that.")
    value = value_of(quantity, there)
    movement = put_back(by=by, lot=lot, quantity=quantity, value_minor=value, note=note, key=key)
    StageIssue.objects.create(movement=movement, stage=stage, cast=cast)
    return movement


def had_of(stage: Stage, lot: Lot, cast: int | None) -> Held | None:
    """What a stage has of one lot for a cast, or for no one alone; None where it has none."""
    return next((each.held for each in issued_lots(stage) if (each.lot.pk, each.cast) == (lot.pk, cast)), None)


def issued_lots(stage: Stage) -> list[IssuedLot]:
    """What a stage has of each lot for each cast, in the order in which it first went, in one query."""
    found: dict[tuple[int, int | None], IssuedLot] = {}
    ties = StageIssue.objects.filter(stage=stage, movement__kind__in=[MovementKind.ISSUED, MovementKind.RETURNED])
    for tie in ties.select_related("movement__lot__item").order_by("movement__pk"):
        moved, place = tie.movement, (tie.movement.lot_id, tie.cast)
        before = found.get(place)
        held = before.held if before else Held(Decimal(0), 0)
        found[place] = IssuedLot(moved.lot, held.and_then(-moved.quantity, -moved.value_minor), tie.cast)
    return [each for each in found.values() if round(each.held.quantity, DIGITS) > 0]


def said_of(stage: Stage, cast: int | None) -> str:
    """What the ledger says beside a movement, so that it can be read without the board."""
    return f"{stage.commission.number}, {stage.named(cast)}, {stage.code}"


def _no_such_cast(stage: Stage, cast: int) -> str:
    if not stage.casts:
        return f"{stage} is about no cast; leave it empty."
    return f"{cast} is none of its casts. They are numbered 1 to {stage.casts}, as on their labels."


def _in_hand(stage: Stage) -> None:
    if stage.commission.state != CommissionState.ACCEPTED:
        raise StoresError("quantity", "Material goes to commissions that are accepted and not yet handed over.")
