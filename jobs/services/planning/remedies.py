"""What would mend a commission's lateness: each thing tried on its own, the cheapest that mends it first."""

import datetime
from collections.abc import Callable, Iterable
from typing import Any

from jobs.figures.activities import DONE
from jobs.figures.plan.result import Plan
from jobs.figures.plan.solving import solve
from jobs.figures.todo import CAST, CommissionToDo
from jobs.services.planning.costs import Costs
from jobs.services.planning.problem import Asked, asked
from jobs.services.planning.suppositions import (
    FIRST,
    HIRE,
    PAINT_OUT,
    SATURDAYS,
    SECOND_MOULD,
    Supposition,
)
from materials.queries.figures import studio_figures
from materials.queries.prices import price_book_on
from studio.office.queries import house

SHARE = 0.2
"""Of the time that the plan itself was given, for each thing that is tried."""
HIRED_WEEKS, SATURDAY_WEEKS = 3, 4
MOST = 3
"""Remedies kept for one commission."""


def costs_of(plain: Asked) -> Costs:
    """What suppositions of this plan are priced by."""
    row = house()
    return Costs(price_book_on(plain.days.days[0], row.currency), studio_figures(), row, plain)


def remedies(
    plain: Asked, plan: Plan, late: Iterable[str], now: datetime.datetime, seconds: float, tell: Callable[[str], None]
) -> dict[str, list[dict[str, Any]]]:
    """For each late commission what would mend it; ``seconds`` is what the plan was given, ``tell`` hears of trials."""
    costs = costs_of(plain)
    found = {}
    for work in plain.commissions:
        if work.id not in late:
            continue
        tried = []
        for each in candidates(work, plain.days.days[0]):
            tell(f"Trying for {work.name}: {each.words}")
            gained = _gain(plain, plan, work, each, now, seconds * SHARE)
            if gained is not None:
                tried.append({**gained, "cost_minor": costs.of(each), "supposition": each.kept()})
        found[work.id] = sorted(tried, key=_order)[:MOST]
    return found


def candidates(work: CommissionToDo, first: datetime.date) -> list[Supposition]:
    """What may be tried for a commission, from the first day of a plan on."""
    day = first.isoformat()
    tried = [
        Supposition(FIRST, f"put {work.name} before all others", commission=work.id),
        Supposition(SATURDAYS, f"work {SATURDAY_WEEKS} Saturdays", day=day, weeks=SATURDAY_WEEKS),
        Supposition(HIRE, f"hire one person for {HIRED_WEEKS} weeks", day=day, weeks=HIRED_WEEKS, people=1),
    ]
    if any(step.in_booth for stage in work.stages for step in stage.steps):
        tried.append(Supposition(PAINT_OUT, f"send the painting of {work.name} out", commission=work.id))
    tried += [
        Supposition(SECOND_MOULD, f"make a second mould of {stage.section}", commission=work.id, section=stage.section)
        for stage in work.stages
        if stage.key == CAST and stage.casts > 1
    ]
    return tried


def _gain(
    plain: Asked, plan: Plan, work: CommissionToDo, each: Supposition, now: datetime.datetime, seconds: float
) -> dict[str, Any] | None:
    """By how many days it would be done sooner, and whether that is in time; None where it gains nothing."""
    supposed = asked(now, [each])
    found = solve(supposed.problem, seconds=seconds)
    own = f"{work.id}/{DONE}"
    before, after = plain.days.last_day(plan.ends[own]), supposed.days.last_day(found.ends[own])
    days = (before - after).days
    if days <= 0:
        return None
    due = next(other.due for other in supposed.commissions if other.id == work.id)
    return {
        "words": each.words,
        "finish": after.isoformat(),
        "days": days,
        "mends": due is not None and found.ends[own] <= due,
    }


def _order(tried: dict[str, Any]) -> tuple[Any, ...]:
    cost = tried["cost_minor"]
    if tried["mends"]:
        return (0, cost is None, cost or 0, -tried["days"])
    return (1, -tried["days"], cost is None, cost or 0)
