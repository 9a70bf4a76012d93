"""What no plan goes below, without solving: the critical path, and what there is to do for each resource that is there.

Work takes what is there of its resource from its earliest start on, absences
left out: by when that is enough for a set of activities, they cannot all be done
sooner (energetic reasoning). For lateness whole commissions are such sets: the
one that is done after so many others is done no sooner than the work of as many
of the smallest, whichever they are, and the least lateness is that of the dates
in their order.
"""

from bisect import bisect_left
from collections.abc import Mapping
from functools import cache
from itertools import accumulate

from jobs.figures.plan.goals import measured
from jobs.figures.plan.network import earliest_starts
from jobs.figures.plan.problem import Problem, Resource
from jobs.figures.plan.result import FINISH, LATENESS, MOVES

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
        By the goals' keys. Moves by the critical path; lateness and the finish by the resources too.
    """
    heads = earliest_starts(problem)
    bounds = measured(problem, heads)
    moves = sum(max(0, heads[name] - period) for name, period in problem.published.items() if name in heads)
    tails = _tails(problem)
    there = [_There(resource, problem.calendar.horizon) for resource in problem.resources]
    return {
        LATENESS: max([bounds[LATENESS], *(_behind(problem, each, heads) for each in there)]),
        MOVES: moves,
        FINISH: max([bounds[FINISH], *(_busy(problem, each, heads, tails) for each in there)]),
    }


class _There:
    """How much of a resource is there from one period to another."""

    def __init__(self, resource: Resource, horizon: int) -> None:
        self.id = resource.id
        changes = [0] * (horizon + 1)
        changes[0] = resource.capacity
        for away in resource.away:
            if away.start < min(away.end, horizon):
                changes[max(away.start, 0)] -= away.units
                changes[min(max(away.end, 0), horizon)] += away.units
        # Up to each period, units times periods since the first.
        self.until = [0, *accumulate(accumulate(changes[:horizon]))]

    def enough(self, start: int, work: int) -> int:
        """The period by whose beginning so much work can be done that begins in another, at the soonest."""
        return bisect_left(self.until, self.until[start] + work, lo=start)


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


def _busy(problem: Problem, there: _There, heads: Mapping[str, int], tails: Mapping[str, int]) -> int:
    """The soonest end that the work of one resource allows: it cannot begin before the first of its heads.

    For every set of activities: the least head, the work by what is there, and the least tail.
    """
    work = sorted(
        (
            (tails[each.id], heads[each.id], each.duration * each.needs[there.id])
            for each in problem.open
            if there.id in each.needs
        ),
        reverse=True,
    )
    found = 0
    for head in sorted({head for _, head, _ in work})[:MOST_HEADS]:
        later = [(tail, units) for tail, begins, units in work if begins >= head]
        sums = accumulate(units for _, units in later)
        found = max(found, *(there.enough(head, done) + tail for (tail, _), done in zip(later, sums, strict=True)))
    return found


def _behind(problem: Problem, there: _There, heads: Mapping[str, int]) -> int:
    """The least lateness that the work of one resource allows for the commissions that have a date."""
    dated = {each.id: each for each in problem.commissions if each.due is not None}
    work: dict[str, int] = {}
    for each in problem.open:
        if there.id in each.needs and each.commission in dated:
            work[each.commission] = work.get(each.commission, 0) + each.duration * each.needs[there.id]
    if not work:
        return 0
    head = min(heads[each.id] for each in problem.open if there.id in each.needs and each.commission in dated)
    dues = sorted(dated[name].due or 0 for name in work)
    done = (there.enough(head, total) for total in accumulate(sorted(work.values())))
    late = sum(max(0, end - due) for end, due in zip(done, dues, strict=True))
    return late * min(dated[name].weight for name in work)
