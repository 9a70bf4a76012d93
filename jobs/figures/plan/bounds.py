"""What no plan goes below, without solving: the critical path, and what there is to do for each resource that is there.

Work takes what is there of its resource from its earliest start on, absences
left out: by when that is enough for a set of activities, they cannot all be done
sooner (energetic reasoning). For lateness whole commissions are such sets: the
one that is done after so many others is done no sooner than the work of as many
of the smallest, whichever they are, and the least lateness is that of the dates
in their order.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate

from jobs.figures.plan.goals import measured
from jobs.figures.plan.network import earliest_starts
from jobs.figures.plan.problem import Problem, Resource, Stay
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
    taken = _taken(problem, heads, tails)
    behind, busy = [bounds[LATENESS]], [bounds[FINISH]]
    for resource in problem.resources:
        there = _There(resource, problem.calendar.horizon)
        behind.append(_behind(problem, there, taken[resource.id]))
        busy.append(_busy(there, taken[resource.id]))
    return {LATENESS: max(behind), MOVES: moves, FINISH: max(busy)}


@dataclass(frozen=True, slots=True)
class _Taken:
    """What is taken of a resource in every plan: units times periods, after its head and before its tail."""

    head: int
    tail: int
    work: int
    commission: str


class _There:
    """How much of a resource is there from one period to another."""

    def __init__(self, resource: Resource, horizon: int) -> None:
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


def _taken(problem: Problem, heads: Mapping[str, int], tails: Mapping[str, int]) -> dict[str, list[_Taken]]:
    """By resource what work takes, and what stays in a place from a first activity to a last one at the least."""
    found: dict[str, list[_Taken]] = {resource.id: [] for resource in problem.resources}
    for each in problem.open:
        for name, units in each.needs.items():
            found[name].append(_Taken(heads[each.id], tails[each.id], each.duration * units, each.commission))
    place = {activity.id: number for number, activity in enumerate(problem.ordered)}
    for stay in problem.stays:
        first, last = problem.by_id[stay.first], problem.by_id[stay.last]
        if not first.done and not last.done and first.commission == last.commission:
            work = _span(problem, stay, place) * stay.units
            found[stay.resource].append(_Taken(heads[first.id], tails[last.id], work, first.commission))
    return found


def _span(problem: Problem, stay: Stay, place: Mapping[str, int]) -> int:
    """How many periods a stay takes at the least, holds left aside: the longest way from its first to its last."""
    between = [
        name
        for name in problem.ancestors[stay.last] | {stay.last}
        if stay.first in problem.ancestors[name] and name != stay.first
    ]
    longest = {stay.first: problem.by_id[stay.first].duration}
    for name in sorted(between, key=place.__getitem__):
        before = max(longest[each] for each in problem.awaited[name] if each in longest)
        longest[name] = before + problem.by_id[name].duration
    return longest[stay.last]


def _busy(there: _There, taken: Sequence[_Taken]) -> int:
    """The soonest end that what is taken of one resource allows: it cannot begin before the first of its heads.

    For every set of takings: the least head, the work by what is there, and the least tail.
    """
    found = 0
    by_tail = sorted(taken, key=lambda each: each.tail, reverse=True)
    for head in sorted({each.head for each in taken})[:MOST_HEADS]:
        later = [each for each in by_tail if each.head >= head]
        sums = accumulate(each.work for each in later)
        found = max(found, *(there.enough(head, done) + each.tail for each, done in zip(later, sums, strict=True)))
    return found


def _behind(problem: Problem, there: _There, taken: Sequence[_Taken]) -> int:
    """The least lateness that what is taken of one resource allows for the commissions that have a date."""
    dated = {each.id: each for each in problem.commissions if each.due is not None}
    counted = [each for each in taken if each.commission in dated]
    work: dict[str, int] = {}
    for each in counted:
        work[each.commission] = work.get(each.commission, 0) + each.work
    if not work:
        return 0
    head = min(each.head for each in counted)
    dues = sorted(dated[name].due or 0 for name in work)
    done = (there.enough(head, total) for total in accumulate(sorted(work.values())))
    late = sum(max(0, end - due) for end, due in zip(done, dues, strict=True))
    return late * min(dated[name].weight for name in work)
