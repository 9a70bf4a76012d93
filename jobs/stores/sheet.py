"""What a commission has had of the stores, arranged for reading. No costs here: the bench reads it too."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.models import Stage, StageIssue
from jobs.queries.stores import StageNeed
from materials.models import Item, Lot, MovementKind

NOUGHT = Decimal(0)


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One item at one stage: what the take-off needs and what was issued, in the item's unit."""

    item: Item
    needed: Decimal
    issued: Decimal

    @property
    def left(self) -> Decimal:
        """What it needs still."""
        return max(NOUGHT, self.needed - self.issued)

    @property
    def over(self) -> Decimal:
        """What was issued beyond the take-off."""
        return max(NOUGHT, self.issued - self.needed)


@dataclass(frozen=True, slots=True)
class StageMaterials:
    """One stage with its materials."""

    stage: Stage
    rows: tuple[MaterialRow, ...]


@dataclass(frozen=True, slots=True)
class BatchRow:
    """What went of one lot into one stage for one cast, less what came back, and when it first went."""

    stage: Stage
    lot: Lot
    quantity: Decimal
    first: datetime.datetime
    with_sent_out: bool
    cast: int | None = None

    @property
    def place(self) -> str:
        """Stage and cast."""
        return self.stage.named(self.cast)


def batch_rows(ties: Iterable[StageIssue]) -> list[BatchRow]:
    """Movements gathered by stage, cast and lot, as they first went; all come back leaves nothing."""
    found: dict[tuple[int, int | None, int], BatchRow] = {}
    for tie in ties:
        moved, place = tie.movement, (tie.stage_id, tie.cast, tie.movement.lot_id)
        before = found.get(place)
        found[place] = BatchRow(
            stage=tie.stage,
            lot=moved.lot,
            quantity=(before.quantity if before else NOUGHT) - moved.quantity,
            first=before.first if before else moved.at,
            with_sent_out=(before.with_sent_out if before else False) or moved.kind == MovementKind.SENT,
            cast=tie.cast,
        )
    return [row for row in found.values() if row.quantity > 0]


def materials_by_stage(
    stages: Sequence[Stage], needs: Iterable[StageNeed], batches: Iterable[BatchRow], items: dict[str, Item]
) -> list[StageMaterials]:
    """Every stage that needs or has had material."""
    rows: dict[int, dict[str, MaterialRow]] = {}
    for found in needs:
        item = items.get(found.need.key)
        if found.stage and item:
            rows.setdefault(found.stage.pk, {})[item.key] = MaterialRow(item, found.need.needed, NOUGHT)
    for batch in batches:
        of_stage = rows.setdefault(batch.stage.pk, {})
        before = of_stage.get(batch.lot.item.key, MaterialRow(batch.lot.item, NOUGHT, NOUGHT))
        of_stage[batch.lot.item.key] = MaterialRow(before.item, before.needed, before.issued + batch.quantity)
    return [
        StageMaterials(stage, tuple(sorted(rows[stage.pk].values(), key=lambda row: row.item.name.casefold())))
        for stage in stages
        if rows.get(stage.pk)
    ]
