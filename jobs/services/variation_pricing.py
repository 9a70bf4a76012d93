"""A variation's price: the agreed scope against the changed one, both by the price book and figures of one day.

So nothing but the change makes the difference: a price or a norm that moved
since the quote moves both sides alike. The terms are those of the accepted quote.
"""

import datetime
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from jobs.figures.compare import Comparison, compare
from jobs.figures.price import Price
from jobs.figures.quote import BuildUp
from jobs.figures.varied import (
    ALL,
    Change,
    Place,
    changes_of,
    days_longer,
    is_approved_anew,
    places_that_differ,
    usually_again,
    varied_spec,
    with_done_work,
)
from jobs.figures.varied_budget import PlaceBudget, budget_changes
from jobs.figures.varied_price import FourPrices, InWords, difference_price
from jobs.models import Quote, Stage, StageState, Variation, VariationItem
from jobs.queries.variations import agreed_spec, contract_of
from jobs.services.drafts import Beside, Drafted, Refused
from jobs.services.pricing import Working, work_out
from jobs.services.stage_making import budget_place
from materials.estimator.takeoff import take_off
from materials.pricing import PricesMissing
from materials.queries.figures import studio_figures
from materials.specfile import read_spec

DONE = (StageState.READY, StageState.PASSED)
"""Work that is done, whether it was looked at yet or not."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A variation with all that its price is worked out from, as read in one go."""

    variation: Variation
    quote: Quote
    spec: dict[str, Any]
    extras: tuple[Beside, ...]
    items: tuple[VariationItem, ...]
    stages: tuple[Stage, ...]
    accepted: tuple[Variation, ...]

    @property
    def changes(self) -> tuple[Change, ...]:
        """The changes to the sections."""
        return changes_of(self.variation.changes)

    @property
    def stamp(self) -> tuple[object, ...]:
        """What differs as soon as the draft, what is agreed, or how far the work is has been changed."""
        return self.variation.version, len(self.accepted), tuple((stage.pk, stage.state) for stage in self.stages)


@dataclass(frozen=True, slots=True)
class Varied:
    """A variation worked out: both sides, and every difference between them.

    ``touched`` are the stages whose work is other than it was; ``reopened`` those of them that are done and are done
    again, chosen from those ``offered``, and ``approved_anew`` those whose approval is of what is no longer made.
    """

    asked: Asked
    was: Working
    now: Working
    comparison: Comparison
    price: Price
    cost_minor: int
    contingency_minor: int
    budget: tuple[PlaceBudget, ...]
    touched: tuple[Stage, ...]
    offered: tuple[Stage, ...]
    reopened: tuple[Stage, ...]
    approved_anew: tuple[Stage, ...]
    days_worked_out: int

    @property
    def days(self) -> int:
        """By how much the day moves: as entered, or as worked out [day]."""
        entered = self.asked.variation.days
        return self.days_worked_out if entered is None else entered

    @property
    def currency(self) -> str:
        """ISO 4217 code of every amount."""
        return self.now.currency


def asked_of(variation: Variation) -> Asked:
    """Read a variation and what it changes."""
    commission = variation.commission
    quote = contract_of(commission)
    if quote is None:
        raise Refused("No quote of this commission is accepted; change the draft of the quote instead.")
    accepted = tuple(commission.variations.light().accepted())
    return Asked(
        variation=variation,
        quote=quote,
        spec=agreed_spec(quote, accepted),
        extras=tuple(commission.extras.select_related("item")),
        items=tuple(variation.items.select_related("item", "stage__section", "stage__budget")),
        stages=tuple(
            commission.stages.select_related("section", "budget").order_by("section__position", "position", "pk")
        ),
        accepted=accepted,
    )


def work_out_variation(asked: Asked, on: datetime.date) -> Varied:
    """Work a variation out by the figures and prices of a day.

    Work that is done and is not done again stays as it is and makes no difference, neither in what is added nor in
    what is left out. Raises EstimatorError where the scope cannot be worked, PricesMissing where a price is wanting.
    """
    commission, changes = asked.variation.commission, asked.changes
    changed = varied_spec(asked.spec, changes)
    figures = studio_figures()
    before, after = (take_off(read_spec(spec, defaults=figures)) for spec in (asked.spec, changed))
    differing = places_that_differ(before, after)
    offered = tuple(stage for stage in asked.stages if stage.state in DONE and budget_place(stage) in differing)
    reopened = _reopened(asked, offered, usually_again(differing, changes))
    done = {budget_place(stage) for stage in asked.stages if stage.state in DONE and stage not in reopened}
    added = tuple(item for item in asked.items if not item.is_omission)
    omitted = tuple(item for item in asked.items if item.is_omission)

    def worked(spec: dict[str, Any], beside: Iterable[Beside]) -> Working:
        drafted = Drafted(commission, (), (*asked.extras, *beside), asked.quote)
        return work_out(drafted=drafted, spec=spec, on=on, amended=lambda now: with_done_work(now, before, done))

    agreed, was = worked(asked.spec, ()), worked(asked.spec, omitted)
    planned, now = worked(changed, ()), worked(changed, added)
    prices = FourPrices(*(_built(each) for each in (agreed, planned, was, now)))
    category = commission.tax_category
    programmes = [each.programme.working_weeks * 7 + each.programme.hold_days for each in (was, now)]
    return Varied(
        asked=asked,
        was=was,
        now=now,
        comparison=compare(prices.was.lines, prices.now.lines),
        price=difference_price(
            prices,
            sections=_called(changes),
            added=[InWords(item.key, item.label) for item in added],
            omitted=[InWords(item.key, f"Left out: {item.label}") for item in omitted],
            tax=(category.name, category.rate_on(on)),
        ),
        cost_minor=prices.now.cost_minor - prices.was.cost_minor,
        contingency_minor=prices.now.sum_of("contingency") - prices.was.sum_of("contingency"),
        budget=budget_changes(
            (was.take_off, prices.was.lines),
            (now.take_off, prices.now.lines),
            {item.key: budget_place(item.stage) for item in asked.items if item.stage is not None},
        ),
        touched=_touched(asked, places_that_differ(agreed.take_off, planned.take_off), reopened),
        offered=offered,
        reopened=reopened,
        approved_anew=_approved_anew(asked, reopened),
        days_worked_out=days_longer(*programmes),
    )


def _reopened(asked: Asked, offered: Sequence[Stage], usual: Collection[Place]) -> tuple[Stage, ...]:
    """The stages done again: as chosen, or as usual for such a change."""
    chosen = asked.variation.reopens
    if chosen is None:
        return tuple(stage for stage in offered if budget_place(stage) in usual)
    return tuple(stage for stage in offered if stage.code in chosen)


def _approved_anew(asked: Asked, reopened: Collection[Stage]) -> tuple[Stage, ...]:
    """The stages whose hold point was opened, and is closed again by what is changed or done again."""
    return tuple(
        stage
        for stage in asked.stages
        if stage.approval_id is not None
        and (stage in reopened or (stage.state not in DONE and is_approved_anew(budget_place(stage), asked.changes)))
    )


def _touched(asked: Asked, differing: Collection[Place], reopened: Collection[Stage]) -> tuple[Stage, ...]:
    in_words = {item.stage_id for item in asked.items}
    return tuple(
        stage for stage in asked.stages if stage.pk in in_words or stage in reopened or budget_place(stage) in differing
    )


def _built(working: Working) -> BuildUp:
    if working.priced is None:
        raise PricesMissing(working.missing)
    return working.priced.built


def _called(changes: Iterable[Change]) -> str:
    """The changed sections by their names, as a line of the price."""
    names = list(dict.fromkeys(change.section for change in changes))
    if not names:
        return ""
    if ALL in names:
        return "All sections, changed as described"
    listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return f"{listed}, changed as described"
