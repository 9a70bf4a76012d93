"""Who and what a plan takes, from when until when: by work, and by what stays in a place."""

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import Plan


@dataclass(frozen=True, slots=True)
class Use:
    """Units of a resource taken from one period up to another, that one excluded.

    Attributes
    ----------
    resource : str
    start, end : int
    units : int
        [each]
    first, last : str
        The activities it begins and ends with; the same one where it is work.
    hold : int
        How long it goes on after the last, by the clock [min].
    """

    resource: str
    start: int
    end: int
    units: int
    first: str
    last: str
    hold: int = 0


def uses(problem: Problem, plan: Plan) -> tuple[Use, ...]:
    """All that a plan takes.

    Parameters
    ----------
    problem : Problem
    plan : Plan

    Returns
    -------
    tuple of Use
        Of work, then of stays.
    """
    return (*_of_work(problem, plan), *_of_stays(problem, plan))


def _of_work(problem: Problem, plan: Plan) -> Iterator[Use]:
    for activity in problem.open:
        for resource, units in activity.needs.items() if activity.duration else ():
            yield Use(resource, plan.starts[activity.id], plan.ends[activity.id], units, activity.id, activity.id)


def _of_stays(problem: Problem, plan: Plan) -> Iterator[Use]:
    calendar = problem.calendar
    for stay in problem.stays:
        last = problem.by_id[stay.last]
        if last.ended is not None:
            end = calendar.first_from(last.ended + stay.hold)
        else:
            end = calendar.ready(plan.starts[stay.last], plan.ends[stay.last], stay.hold)
        start = 0 if problem.by_id[stay.first].done else plan.starts[stay.first]
        yield Use(stay.resource, start, end, stay.units, stay.first, stay.last, stay.hold)
