"""How an accepted commission stands: budget, spent and earned by stage, and what it will cost when it is done."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from django.utils import timezone

from jobs.figures.forecast import EarnedValue, Forecast, forecasts, usual
from jobs.figures.standing import Cost, cost_sum, earned_minor, earned_share, past_since, planned_minor
from jobs.models import (
    BudgetLine,
    Commission,
    CommissionState,
    Quote,
    SentOutWork,
    StageState,
    Variation,
    VariationBudget,
)
from jobs.queries.standing import (
    Booked,
    SteppedStage,
    accepted_quote,
    booked_by_day,
    budget_of,
    budgets,
    issued_by_day,
    sent_out_of,
    stepped_stages,
    sum_of,
)
from jobs.queries.variations import budget_agreed
from jobs.services.stage_making import budget_place
from jobs.standing.costs import (
    Shares,
    Spent,
    add_hours,
    add_material,
    add_sent_out,
    cost_of,
    hour_rates,
    is_spent,
    shares_of,
)
from jobs.standing.rows import Group, StageRow
from studio.money import exact, round_half_up, working

DAYS_A_WEEK = 7
WHOLE = "Whole commission"
OTHER = "Deliveries and other work"


@dataclass(frozen=True, slots=True)
class Outlook:
    """A forecast set against the budget and the price."""

    forecast: Forecast
    to_go_minor: int | None
    over_minor: int | None
    margin_minor: int | None
    margin: float | None


@dataclass(frozen=True, slots=True)
class Programme:
    """The weeks of the quote, from acceptance or from the first hours before it, and as variations moved its end."""

    begins: datetime.date
    ends: datetime.date


@dataclass(frozen=True)
class Standing:
    """All of it. Amounts are minor units of ``currency``, before tax."""

    quote: Quote
    currency: str
    on: datetime.date
    groups: tuple[Group, ...]
    value: EarnedValue
    programme: Programme
    booked: tuple[Booked, ...]
    contingency_minor: int
    ordered_minor: int
    left_out: int
    variations: tuple[Variation, ...] = ()

    @cached_property
    def outlooks(self) -> tuple[Outlook, ...]:
        """The three forecasts."""
        return tuple(self._outlook(each) for each in forecasts(self.value))

    @property
    def expected(self) -> Outlook:
        """The one to be read first."""
        return self._outlook(usual(forecasts(self.value)))

    @property
    def net_minor(self) -> int:
        """The price before tax: as quoted, and as varied since."""
        return self.quoted_minor + self.varied_minor

    @property
    def quoted_minor(self) -> int:
        """The price that was accepted first; it stays as it was."""
        return self.quote.net_minor or 0

    @property
    def varied_minor(self) -> int:
        """What accepted variations add to it."""
        return sum(each.net_minor or 0 for each in self.variations)

    @property
    def profit_minor(self) -> int:
        """What the quote and its variations meant to leave, beside their contingency."""
        costs = [self.quote.cost_minor or 0, *(each.cost_minor or 0 for each in self.variations)]
        return self.net_minor - sum(costs)

    @property
    def rows(self) -> list[StageRow]:
        """Every row."""
        return [row for group in self.groups for row in group.rows]

    @property
    def troubles(self) -> list[StageRow]:
        """Stages that have cost more than their budget, and then those whose forecast passes it; the worst first."""
        return sorted((row for row in self.rows if row.over_minor), key=lambda row: (not row.is_past, -row.over_minor))

    @property
    def total(self) -> Group:
        """All rows as one group."""
        return Group("In all", tuple(self.rows))

    @property
    def spent(self) -> Cost:
        """What it has cost so far, by sort."""
        return cost_sum(row.spent for row in self.rows)

    @property
    def budget(self) -> Cost:
        """What it may cost, by sort."""
        return cost_sum(row.budget for row in self.rows)

    @property
    def earned_by_a_hundred(self) -> int | None:
        """What each hundred minor units spent have earned; None before anything is spent."""
        return _of_a_hundred(self.value.cost_index)

    @property
    def must_earn_by_a_hundred(self) -> int | None:
        """What each hundred still to be spent must earn to stay within the budget; None once past it, or done."""
        is_done = self.value.earned_minor == self.value.budget_minor
        return None if is_done else _of_a_hundred(self.value.to_complete_index)

    @property
    def behind_minor(self) -> int:
        """The budget of the work that should be done by now and is not; below nought of what is ahead."""
        return -self.value.schedule_variance_minor

    @property
    def ahead_minor(self) -> int:
        """The budget of the work that is done before its time."""
        return self.value.schedule_variance_minor

    def _outlook(self, forecast: Forecast) -> Outlook:
        at = forecast.at_completion_minor
        if at is None:
            return Outlook(forecast, None, None, None, None)
        margin = self.net_minor - at
        share = margin / self.net_minor if self.net_minor else None
        return Outlook(forecast, at - self.value.actual_minor, at - self.value.budget_minor, margin, share)


def standing_of(commission: Commission, *, on: datetime.date, currency: str) -> Standing | None:
    """How a commission stands on a day, in twelve queries whatever its size; None before a quote is accepted.

    ``currency`` is the price book's.
    """
    quote = accepted_quote(commission)
    if quote is None:
        return None
    lines, stages = budget_of(quote), stepped_stages(commission)
    booked, sent_out = booked_by_day(commission), sent_out_of(commission)
    issued = issued_by_day(commission)
    own_money = [each for each in issued if each.currency == quote.currency]
    own_work = [work for work in sent_out if work.currency == quote.currency]
    variations = tuple(commission.variations.light().accepted())
    shares = shares_of(quote)
    spent: dict[int, Spent] = {stage.row.pk: Spent() for stage in stages}
    whole = Spent()
    add_hours(spent, booked, hour_rates(quote, currency))
    add_material(spent, whole, own_money, shares.consumables)
    _send_out(spent, whole, stages, own_work, shares)
    done = commission.state == CommissionState.DONE
    groups = _groups(_budgets(quote, lines, budget_agreed(commission)), stages, spent, whole, done=done)
    rows = [row for group in groups for row in group.rows]
    budget = sum(row.budget.total_minor for row in rows)
    programme = _programme(quote, commission, booked, on)
    return Standing(
        quote=quote,
        currency=quote.currency,
        on=on,
        groups=groups,
        value=EarnedValue(
            budget,
            planned_minor(budget, programme.begins, (programme.ends - programme.begins).days, on),
            sum(row.earned_minor for row in rows),
            sum(row.spent.total_minor for row in rows),
        ),
        programme=programme,
        booked=tuple(booked),
        contingency_minor=sum_of(quote, "contingency") + sum(each.contingency_minor or 0 for each in variations),
        ordered_minor=sum(cost_of(work) for work in own_work if not is_spent(work)),
        variations=variations,
        left_out=len(issued) - len(own_money) + len(sent_out) - len(own_work),
    )


def _of_a_hundred(index: Decimal | None) -> int | None:
    if index is None:
        return None
    with working():
        return round_half_up(100 * index)


def _send_out(
    spent: dict[int, Spent],
    whole: Spent,
    stages: Sequence[SteppedStage],
    sent_out: Sequence[SentOutWork],
    shares: Shares,
) -> None:
    """Sent-out work of the whole job stands apart from its hours, for it comes in at its own times."""
    of_sections = {stage.row.pk for stage in stages if stage.row.section_id is not None}
    for work in sent_out:
        if is_spent(work):
            place = spent[work.stage_id] if work.stage_id in of_sections else whole
            add_sent_out(place, work, shares.handling)


def _budgets(
    quote: Quote, lines: Sequence[BudgetLine], agreed: Sequence[VariationBudget]
) -> dict[tuple[str, str], Cost]:
    """What each section and stage may cost: as accepted first, and as varied since."""
    costs = budgets(quote, lines)
    found = {(line.section, line.stage): costs[line.pk] for line in lines}
    for row in agreed:
        added = Cost(row.work_minor, row.material_minor, row.sent_out_minor)
        found[row.section, row.stage] = cost_sum([found.get((row.section, row.stage), Cost()), added])
    return found


def _groups(
    budget: dict[tuple[str, str], Cost],
    stages: Sequence[SteppedStage],
    spent: dict[int, Spent],
    whole: Spent,
    *,
    done: bool,
) -> tuple[Group, ...]:
    found: dict[str, list[StageRow]] = {}
    sent_out = Cost()
    for stage in stages:
        cost = budget.pop(budget_place(stage.row), Cost())
        if stage.row.section is None:
            sent_out = cost_sum([sent_out, Cost(sent_out_minor=cost.sent_out_minor)])
            cost = Cost(cost.work_minor, cost.material_minor)
        name = stage.row.section.name if stage.row.section else WHOLE
        found.setdefault(name, []).append(_row(name, stage, cost, spent[stage.row.pk]))
    at_whole = found.pop(WHOLE, [])
    for (section, key), cost in budget.items():
        if not section:
            sent_out = cost_sum([sent_out, cost])
        elif cost.total_minor:
            found.setdefault(section, []).append(_without_stage(section, key, cost, Spent(), done=done))
    if sent_out.total_minor or whole.dated:
        at_whole.append(_without_stage(WHOLE, OTHER, sent_out, whole, done=done))
    groups = [Group(name, tuple(rows)) for name, rows in found.items()]
    return (*groups, Group(WHOLE, tuple(at_whole))) if at_whole else tuple(groups)


def _row(section: str, stage: SteppedStage, budget: Cost, spent: Spent) -> StageRow:
    row = stage.row
    share = earned_share(passed=row.state == StageState.PASSED, steps_done=stage.done, steps=stage.steps)
    return StageRow(
        code=row.code,
        section=section,
        stage=row.name,
        position=row.position,
        state=row.get_state_display(),
        budget=budget,
        spent=spent.cost,
        earned_minor=earned_minor(budget.total_minor, share),
        allowed_minutes=row.allowed_minutes,
        booked_minutes=sum(minutes for _, minutes in spent.minutes),
        hours_past_since=past_since(
            [(day, exact(minutes)) for day, minutes in spent.minutes], exact(row.allowed_minutes)
        ),
        budget_past_since=past_since(spent.dated, exact(budget.total_minor)),
    )


def _without_stage(section: str, stage: str, budget: Cost, spent: Spent, *, done: bool) -> StageRow:
    """What no stage on the board takes: it earns as it is spent, and all of it when the commission is handed over."""
    cost = spent.cost
    return StageRow(
        code="",
        section=section,
        stage=stage[:1].upper() + stage[1:],
        position=1_000_000,
        state="",
        budget=budget,
        spent=cost,
        earned_minor=budget.total_minor if done else min(budget.total_minor, cost.total_minor),
        allowed_minutes=0,
        booked_minutes=0,
        hours_past_since=None,
        budget_past_since=past_since(spent.dated, exact(budget.total_minor)),
    )


def _programme(quote: Quote, commission: Commission, booked: Sequence[Booked], on: datetime.date) -> Programme:
    answer = quote.answer
    accepted = timezone.localdate(answer.at) if answer else on
    begins = min([accepted, *(each.day for each in booked)])
    weeks = quote.programme_weeks or 1
    # A programme that variations shorten beyond its length still has a day.
    ends = begins + datetime.timedelta(days=max(1, weeks * DAYS_A_WEEK + commission.days_varied))
    return Programme(begins, ends)
