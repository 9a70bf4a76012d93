"""Work in hand goes on: it is fixed to the first period, as far as there are hands and places for it."""

from collections.abc import Iterable
from dataclasses import replace

from jobs.figures.plan.problem import Activity, Problem
from jobs.figures.plan.profile import NEVER, Profile, first_free


def pin(problem: Problem, names: Iterable[str]) -> Problem:
    """Fix work in hand to period 0, one after another, and leave the rest to the plan.

    Parameters
    ----------
    problem : Problem
        Checked.
    names : iterable of str
        The activities in hand, what matters most first.

    Returns
    -------
    Problem
        The same, with those fixed that wait for nothing any more and for which enough is free beside those before
        them. The others rest until the plan takes them up again.
    """
    free = {resource.id: Profile(resource) for resource in problem.resources}
    for stay in problem.stays:
        last = problem.by_id[stay.last]
        if last.ended is not None:
            free[stay.resource].take(0, problem.calendar.first_from(last.ended + stay.hold), stay.units)
        elif problem.by_id[stay.first].done:
            free[stay.resource].take(0, NEVER, stay.units)
    pinned = set()
    for name in names:
        activity = problem.by_id[name]
        wanted = [*activity.needs.items(), *((stay.resource, stay.units) for stay in problem.begun_by.get(name, ()))]
        fits = not first_free(((free[resource], units, activity.duration) for resource, units in wanted), 0)
        if fits and not activity.release and _waits_for_nothing(problem, activity):
            for resource, units in wanted:
                free[resource].take(0, activity.duration, units)
            pinned.add(name)
    fixed = tuple(replace(each, pinned=0) if each.id in pinned else each for each in problem.activities)
    return replace(problem, activities=fixed)


def _waits_for_nothing(problem: Problem, activity: Activity) -> bool:
    return all(problem.by_id[link.activity].done and not problem.ready(link, {}) for link in activity.after)
