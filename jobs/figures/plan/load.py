"""How much of each resource a plan takes, week by week."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import Plan
from jobs.figures.plan.uses import uses


@dataclass(frozen=True, slots=True)
class Load:
    """What is taken of a resource in a stretch of periods, and what is there: units times periods.

    Attributes
    ----------
    taken, there : int
    """

    taken: int
    there: int


def loads(problem: Problem, plan: Plan, weeks: Sequence[int]) -> dict[str, tuple[Load, ...]]:
    """The load of each resource by week.

    Parameters
    ----------
    problem : Problem
    plan : Plan
    weeks : sequence of int
        The first period of each week, rising, and the one after the last week.

    Returns
    -------
    dict of str to tuple of Load
        By resource, one for each week.
    """
    taken: dict[str, list[tuple[int, int, int]]] = {resource.id: [] for resource in problem.resources}
    for use in uses(problem, plan):
        taken[use.resource].append((use.start, use.end, use.units))
    found = {}
    for resource in problem.resources:
        away = [(each.start, each.end, each.units) for each in resource.away]
        found[resource.id] = tuple(
            Load(
                _within(taken[resource.id], first, after),
                resource.capacity * (after - first) - _within(away, first, after),
            )
            for first, after in pairwise(weeks)
        )
    return found


def _within(spans: Iterable[tuple[int, int, int]], first: int, after: int) -> int:
    return sum(units * max(0, min(end, after) - max(start, first)) for start, end, units in spans)
