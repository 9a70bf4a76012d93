"""What no plan goes below, without solving: the critical path, and the work there is for each resource."""

from collections.abc import Mapping
from functools import cache
from itertools import accumulate

from jobs.figures.plan.goals import measured
from jobs.figures.plan.network import earliest_starts
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import FINISH, MOVES

MOST_HEADS = 100
"""Beginnings looked at for each resource: a set that begins late has little work in it."""


def least(problem: Problem) -> dict[str, int]:
    """What no plan goes below in each goal.

    Parameters
    ----------
    problem : Problem
        Checked.

    Returns
    -------
    dict of str to int
        By the goals' keys. Lateness and moves by the critical path; the finish by the resources too.
    """
    heads = earliest_starts(problem)
    bounds = measured(problem, heads)
    moves = sum(max(0, heads[name] - period) for name, period in problem.published.items() if name in heads)
    tails = _tails(problem)
    busiest = max(
        (_busy(problem, resource.id, resource.capacity, heads, tails) for resource in problem.resources), default=0
    )
    return {**bounds, MOVES: moves, FINISH: max(bounds[FINISH], busiest)}


def _tails(problem: Problem) -> dict[str, int]:
    """How many periods lie at least between the end of each activity and the end of all."""
    calendar = problem.calendar

    @cache
    def shortest(duration: int, hold: int) -> int:
        if not hold:
            return 0
        starts = range(calendar.horizon - max(duration, 1) + 1)
        ready = ((start, calendar.ready(start, start + duration, hold)) for start in starts)
        # After the calendar nothing waits.
        return min((after - start - duration for start, after in ready if after < calendar.horizon), default=0)

    tails = {activity.id: 0 for activity in problem.open}
    for activity in reversed(problem.ordered):
        for link in activity.after if not activity.done else ():
            before = problem.by_id[link.activity]
            if not before.done:
                tail = shortest(before.duration, link.hold) + activity.duration + tails[activity.id]
                tails[before.id] = max(tails[before.id], tail)
    return tails


def _busy(problem: Problem, resource: str, capacity: int, heads: Mapping[str, int], tails: Mapping[str, int]) -> int:
    """The soonest end that the work of one resource allows: it cannot begin before the first of its heads.

    For every set of activities: the least head, the work shared by all units, and the least tail.
    """
    work = sorted(
        (
            (tails[each.id], heads[each.id], each.duration * each.needs[resource])
            for each in problem.open
            if resource in each.needs
        ),
        reverse=True,
    )
    found = 0
    for head in sorted({head for _, head, _ in work})[:MOST_HEADS]:
        later = [(tail, units) for tail, begins, units in work if begins >= head]
        sums = accumulate(units for _, units in later)
        found = max(found, *(head - (-done // capacity) + tail for (tail, _), done in zip(later, sums, strict=True)))
    return found
