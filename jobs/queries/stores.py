"""Reads of what commissions need of the stores and what was issued to them."""

import datetime
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import QuerySet, Sum

from jobs.figures.buying import Need
from jobs.models import (
    Commission,
    CommissionState,
    Extra,
    SentOutWork,
    Stage,
    StageIssue,
    StageState,
)
from jobs.queries.plans import stage_days
from jobs.queries.variations import items_agreed, lines_agreed
from materials.models import Item, ItemKind, Lot
from studio.money import exact

DIGITS = 4
_Beside = tuple[int | None, str, Decimal]
"""Stage if there is one, item and how much, of what no section's take-off gives."""
UNMATCHED = "not tied to a stage"


@dataclass(frozen=True, slots=True)
class StageNeed:
    """A need with the stage it belongs to; None where a commission has no such stage."""

    stage: Stage | None
    need: Need


def open_stages() -> "QuerySet[Stage]":
    """Stages of accepted commissions, in order."""
    found = Stage.objects.filter(commission__state=CommissionState.ACCEPTED)
    return found.select_related("commission", "section").order_by(
        "commission__number", "section__position", "section", "position"
    )


def needs_of(commissions: Collection[Commission]) -> list[StageNeed]:
    """What is agreed of these commissions needs, stage by stage, in seven queries."""
    lines, items = lines_agreed(commissions), items_agreed(commissions)
    stages: dict[int, list[Stage]] = {}
    for stage in Stage.objects.filter(commission__in=commissions).select_related("section"):
        stages.setdefault(stage.commission_id, []).append(stage)
    issued, days = _issued(commissions), stage_days()
    beside: dict[int, list[_Beside]] = {
        commission: [
            (item.stage_id, item.item.key, -item.quantity if item.is_omission else item.quantity) for item in own
        ]
        for commission, own in items.items()
    }
    for extra in Extra.objects.filter(commission__in=commissions).select_related("item"):
        beside.setdefault(extra.commission_id, []).append((None, extra.item.key, extra.quantity))
    return [
        need
        for commission in commissions
        for need in _needs(
            commission,
            lines.get(commission.pk, ()),
            stages.get(commission.pk, ()),
            issued,
            beside.get(commission.pk, ()),
            days,
        )
    ]


def _needs(
    commission: Commission,
    lines: Iterable[Mapping[str, Any]],
    stages: Sequence[Stage],
    issued: dict[tuple[int, str], Decimal],
    beside: Iterable[_Beside],
    days: Mapping[int, datetime.date],
) -> list[StageNeed]:
    of_section = {(stage.section.name, stage.key): stage for stage in stages if stage.section}
    of_whole = {stage.key: stage for stage in stages if not stage.section}
    by_id = {stage.pk: stage for stage in stages}
    sums: dict[tuple[int | None, str], Decimal] = {}
    for line in lines:
        stage = of_section.get((line["section"], line["stage"])) or of_whole.get(line["stage"])
        place = (stage.pk if stage else None, line["material"])
        sums[place] = sums.get(place, Decimal(0)) + exact(line["buy"])
    loose: dict[str, Decimal] = {}
    for (place_pk, key), quantity in issued.items():
        if place_pk in by_id and (place_pk, key) not in sums:
            loose[key] = loose.get(key, Decimal(0)) + quantity
    for stage_pk, key, quantity in beside:
        sums[stage_pk, key] = sums.get((stage_pk, key), Decimal(0)) + quantity
    found = []
    for (stage_pk, key), needed in sums.items():
        if needed < 0:
            # More was left out in words than was ever needed there.
            continue
        stage = by_id[stage_pk] if stage_pk else None
        need = Need(
            commission=commission.number,
            place=str(stage) if stage else UNMATCHED,
            key=key,
            needed=round(needed, DIGITS),
            issued=issued.get((stage_pk, key), Decimal(0)) if stage_pk else loose.get(key, Decimal(0)),
            passed=stage is not None and stage.state == StageState.PASSED,
            by=days.get(stage.pk, commission.last_day) if stage else commission.last_day,
        )
        found.append(StageNeed(stage, need))
    return found


def _issued(commissions: Collection[Commission]) -> dict[tuple[int, str], Decimal]:
    """Issued less returned, by stage and item."""
    rows = (
        StageIssue.objects.filter(stage__commission__in=commissions)
        .values_list("stage", "movement__lot__item__key")
        .annotate(Sum("movement__quantity"))
    )
    return {(stage, key): -round(total, DIGITS) for stage, key, total in rows}


def names_of_items() -> dict[str, Item]:
    """What lies in the stores, by key."""
    kept = Item.objects.exclude(kind__in=[ItemKind.HOUR, ItemKind.SERVICE])
    return {item.key: item for item in kept}


def issues_of(commission: Commission) -> "QuerySet[StageIssue]":
    """Everything that moved to and from a commission's stages, as it went, for asking years later."""
    found = StageIssue.objects.filter(stage__commission=commission)
    return found.select_related("movement__lot__item", "movement__by", "stage__section").order_by("movement__pk")


def issues_from(lots: Collection[Lot]) -> "QuerySet[StageIssue]":
    """Everything that moved between these lots and any stage there ever was."""
    found = StageIssue.objects.filter(movement__lot__in=lots)
    return found.select_related("movement__lot__item", "stage__section", "stage__commission").order_by("movement__pk")


def sent_without_stage(lot: Lot) -> "QuerySet[SentOutWork]":
    """Sent-out work of no one stage that this lot went with."""
    found = SentOutWork.objects.filter(went_with_it__lot=lot, stage=None)
    return found.select_related("commission").distinct()
