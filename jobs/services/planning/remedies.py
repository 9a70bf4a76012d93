"""What would mend each commission's lateness: every thing tried on its own, then pairs of them, the cheapest first."""

import datetime
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from time import monotonic
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
    SPLIT,
    Supposition,
)
from materials.queries.figures import studio_figures
from materials.queries.prices import price_book_on
from studio.office.queries import house

SHARE = 0.2
"""Of the time that the plan itself was given, for each trial."""
TIMES = 12
"""So many times the time of the plan itself all trials together may take."""
HIRED_WEEKS, SATURDAY_WEEKS = 3, 4
MOST = 3
"""Remedies kept for one commission."""
PAIRED = 4
"""Of what gains something alone, so many of the cheapest are tried in pairs."""


def costs_of(plain: Asked) -> Costs:
    """What suppositions of this plan are priced by."""
    row = house()
    return Costs(price_book_on(plain.days.days[0], row.currency), studio_figures(), row, plain)


@dataclass(frozen=True, slots=True)
class Remedies:
    """What was found for each late commission, the best first, and for which of them time ran out."""

    found: dict[str, list[dict[str, Any]]]
    cut_off: frozenset[str]


def remedies(
    plain: Asked, plan: Plan, late: Sequence[str], now: datetime.datetime, seconds: float, tell: Callable[[str], None]
) -> Remedies:
    """For each late commission, the latest first, what would mend it.

    ``seconds`` is what the plan was given, ``tell`` hears of trials.
    """
    trials = _Trials(plain, plan, now, seconds, tell)
    works = {work.id: work for work in plain.commissions}
    found: dict[str, list[dict[str, Any]]] = {}
    cut_off = set()
    for own in late:
        found[own], is_whole = trials.of(works[own])
        if not is_whole:
            cut_off.add(own)
    return Remedies(found, frozenset(cut_off))


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
    for stage in work.stages:
        if stage.key != CAST or stage.casts == 1:
            continue
        if stage.mould_pieces > 1:
            words = f"use the mould of {stage.section} piece by piece"
            tried.append(Supposition(SPLIT, words, commission=work.id, section=stage.section))
        words = f"make one more mould of {stage.section}"
        tried.append(Supposition(SECOND_MOULD, words, commission=work.id, section=stage.section))
    return tried


class _Trials:
    """Plans of what is supposed, each worked out once however many commissions it may help."""

    def __init__(
        self, plain: Asked, plan: Plan, now: datetime.datetime, seconds: float, tell: Callable[[str], None]
    ) -> None:
        self.plain, self.plan, self.now, self.tell = plain, plan, now, tell
        self.each_s, self.until = seconds * SHARE, monotonic() + seconds * TIMES
        self.costs = costs_of(plain)
        self.known: dict[str, tuple[Asked, Plan]] = {}

    def of(self, work: CommissionToDo) -> tuple[list[dict[str, Any]], bool]:
        """What helps one commission, and whether everything was tried."""
        alone = [(each,) for each in candidates(work, self.plain.days.days[0])]
        found, is_whole = self._tried(work, alone)
        if is_whole and not any(each["mends"] for each in found):
            gaining = sorted((each for each in found if each["cost_minor"] is not None), key=_by_cost)[:PAIRED]
            parts = [part for each in gaining for part in each["parts"]]
            pairs = sorted(combinations(parts, 2), key=lambda pair: sum(self.costs.of(each) or 0 for each in pair))
            mended, is_whole = self._tried(work, pairs, until_mended=True)
            found += mended
        ordered = sorted(found, key=_order)[:MOST]
        return [{name: value for name, value in each.items() if name != "parts"} for each in ordered], is_whole

    def _tried(
        self, work: CommissionToDo, groups: Iterable[tuple[Supposition, ...]], *, until_mended: bool = False
    ) -> tuple[list[dict[str, Any]], bool]:
        found: list[dict[str, Any]] = []
        for group in groups:
            if self._key(group) not in self.known and monotonic() > self.until:
                return found, False
            gained = self._gain(work, group)
            if gained is not None:
                found.append(gained)
                if until_mended and gained["mends"]:
                    break
        return found, True

    def _gain(self, work: CommissionToDo, group: tuple[Supposition, ...]) -> dict[str, Any] | None:
        """By how many days it would be done sooner, and whether that is in time; None where it gains nothing."""
        supposed, found = self._plan(group)
        own = f"{work.id}/{DONE}"
        before, after = self.plain.days.last_day(self.plan.ends[own]), supposed.days.last_day(found.ends[own])
        days = (before - after).days
        if days <= 0:
            return None
        due = next(other.due for other in supposed.commissions if other.id == work.id)
        costs = [self.costs.of(each) for each in group]
        return {
            "words": _words(group),
            "finish": after.isoformat(),
            "days": days,
            "mends": due is not None and found.ends[own] <= due,
            "cost_minor": None if None in costs else sum(cost or 0 for cost in costs),
            "parts": group,
        }

    def _plan(self, group: tuple[Supposition, ...]) -> tuple[Asked, Plan]:
        key = self._key(group)
        if key not in self.known:
            self.tell(f"Trying: {_words(group)}")
            supposed = asked(self.now, group)
            self.known[key] = (supposed, solve(supposed.problem, seconds=self.each_s))
        return self.known[key]

    @staticmethod
    def _key(group: tuple[Supposition, ...]) -> str:
        return json.dumps([each.kept() for each in group])


def _words(group: tuple[Supposition, ...]) -> str:
    return ", and ".join(each.words for each in group)


def _by_cost(tried: dict[str, Any]) -> tuple[int, int]:
    return tried["cost_minor"], -tried["days"]


def _order(tried: dict[str, Any]) -> tuple[Any, ...]:
    cost = tried["cost_minor"]
    if tried["mends"]:
        return (0, cost is None, cost or 0, -tried["days"])
    return (1, -tried["days"], cost is None, cost or 0)
