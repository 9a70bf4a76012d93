"""A variation arranged for the office: what it comes to, what is done again and what that cost, and what is at risk."""

import datetime
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal

from jobs.figures.compare import Change, Comparison
from jobs.figures.variation_sheet import Said, moved_day, said_again
from jobs.models import Commission, Stage, Variation
from jobs.models.issued import STATE_WORDS
from jobs.services.variation_pricing import Varied
from jobs.standing.commission import standing_of
from jobs.variations.risk import AtRisk, at_risk
from jobs.variations.sheets import variation_sheet
from studio.accounts.models import User


@dataclass(frozen=True, slots=True)
class Listed:
    """A variation with its state, as a key and in words."""

    variation: Variation
    state: str

    @property
    def words(self) -> str:
        """The state in words."""
        return STATE_WORDS[self.state]


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the difference as the commissioner reads it."""

    label: str
    net_minor: int


@dataclass(frozen=True, slots=True)
class Shown:
    """What a variation comes to, whether it is a draft that was worked out or was frozen."""

    currency: str
    parts: tuple[Part, ...]
    tax_category: str
    tax_rate: Decimal
    net_minor: int
    tax_minor: int
    gross_minor: int
    cost_minor: int
    days: int
    comparison: Comparison
    said: Said

    @property
    def profit_minor(self) -> int:
        """What it leaves over its own cost."""
        return self.net_minor - self.cost_minor

    @property
    def gross_after_minor(self) -> int:
        """What is agreed with it, tax included."""
        return self.said.before.gross_minor + self.gross_minor

    @property
    def due_after(self) -> datetime.date | None:
        """The day with it."""
        return moved_day(self.said.before.due_by, self.days)


@dataclass(frozen=True, slots=True)
class Again:
    """A stage that is done and may be done again, with what was spent on it so far."""

    stage: Stage
    chosen: bool
    minutes: int
    spent_minor: int

    @property
    def hours(self) -> float:
        """Booked [h]."""
        return self.minutes / 60


def variations_of(commission: Commission, on: datetime.date) -> tuple[Listed, ...]:
    """Every variation of a commission, in one query."""
    rows = list(commission.variations.light().order_by("serial"))
    for row in rows:
        row.commission = commission
    return tuple(Listed(row, row.state_on(on)) for row in rows)


def shown_draft(varied: Varied, *, by: User) -> Shown:
    """A draft that was worked out."""
    price, sheet = varied.price, variation_sheet(varied, by=by)
    return Shown(
        currency=varied.currency,
        parts=tuple(Part(part.label, part.net_minor) for part in price.parts),
        tax_category=price.taxes[0].category,
        tax_rate=price.taxes[0].rate,
        net_minor=price.net_minor,
        tax_minor=price.tax_minor,
        gross_minor=price.gross_minor,
        cost_minor=varied.cost_minor,
        days=varied.days,
        comparison=varied.comparison,
        said=sheet.said,
    )


def shown_issued(variation: Variation) -> Shown:
    """One that went out, from what was frozen."""
    lines = tuple(
        Change(row.kind, row.key, row.label, row.unit, row.was_minor, row.is_minor, row.was_quantity, row.is_quantity)
        for row in variation.lines.all()
    )
    return Shown(
        currency=variation.currency,
        parts=tuple(Part(part.label, part.net_minor) for part in variation.parts.all()),
        tax_category=variation.tax_category,
        tax_rate=variation.tax_rate or Decimal(0),
        net_minor=variation.net_minor or 0,
        tax_minor=variation.tax_minor or 0,
        gross_minor=variation.gross_minor or 0,
        cost_minor=variation.cost_minor or 0,
        days=variation.days or 0,
        comparison=Comparison(lines),
        said=said_again(variation.figures["said"]),
    )


def done_again(
    commission: Commission, offered: Collection[Stage], chosen: Collection[str], on: datetime.date, currency: str
) -> tuple[Again, ...]:
    """The stages that are done already, with what was spent on them, as the Standing counts it."""
    if not offered:
        return ()
    standing = standing_of(commission, on=on, currency=currency)
    rows = {row.code: row for row in standing.rows} if standing else {}
    return tuple(
        Again(stage, stage.code in chosen, rows[stage.code].booked_minutes, rows[stage.code].spent.total_minor)
        for stage in offered
        if stage.code in rows
    )


def risk_of(variation: Variation, stages: Collection[Stage], currency: str) -> tuple[tuple[AtRisk, ...], int]:
    """What was done before the change was agreed, and what it cost in all."""
    found = at_risk(variation, stages, currency)
    return found, sum(each.cost_minor for each in found)
