"""Better plans by chance: the order of some activities is changed, and kept where the plan is no worse.

A first-improvement search over priorities, decoded by the serial schedule. It
needs no package, takes milliseconds a step, and gives the solver a good start.
"""

from collections.abc import Callable, Mapping
from random import Random

from jobs.figures.plan.goals import measured
from jobs.figures.plan.network import earliest_starts
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.sequence import sequence
from jobs.figures.plan.serial import by_latest_start, place
from materials.estimator.errors import EstimatorError

HANDFULS = (1, 3, 10, 40)
"""How many activities change their priority at once."""
SPREADS = (1 / 8, 1 / 80)
"""A priority moves by about one of these parts of the plan's length."""
TOGETHER = 0.4
"""How often all of a commission goes earlier or later together."""
LOOSENED = 0.5
"""How often what is changed may also begin before its published start."""
MOVED_FIRST = 0.7
"""How often only what has moved from the published plan is changed."""

Worth = tuple[int, ...]


def worth(problem: Problem, starts: Mapping[str, int]) -> Worth:
    """What is compared: the goals in their order, then the ends of all activities together.

    Parameters
    ----------
    problem : Problem
    starts : mapping of str to int
        Of every activity that is not done, in periods.

    Returns
    -------
    tuple of int
        The less the better.
    """
    return (*measured(problem, starts).values(), sum(starts.values()))


def first_starts(problem: Problem) -> dict[str, int]:
    """The best of a few serial schedules: by the rule of priority, by weight too, and by the published plan.

    Parameters
    ----------
    problem : Problem
        Checked.

    Returns
    -------
    dict of str to int
        In periods.

    Raises
    ------
    EstimatorError
        When there is no serial schedule.
    """
    rule = by_latest_start(problem)
    weights = {commission.id: commission.weight for commission in problem.commissions}
    by_weight = {each.id: rule[each.id] / weights.get(each.commission, 1) for each in problem.open}
    tries: list[tuple[Mapping[str, float], Mapping[str, int]]] = [(rule, {}), (by_weight, {})]
    if problem.published:
        heads = earliest_starts(problem)
        as_published = {**rule, **problem.published}
        # What cannot keep its start takes what the others leave.
        late = {name: order + problem.calendar.horizon * (heads[name] > order) for name, order in as_published.items()}
        tries += [(order, floors) for order in (as_published, late) for floors in ({}, problem.published)]
    found, refused = [], None
    for order, floors in tries:
        try:
            found.append(place(problem, sequence(problem, order), floors))
        except EstimatorError as error:
            refused = refused or error
    if not found and refused:
        raise refused
    return min(found, key=lambda starts: worth(problem, starts))


def improve(problem: Problem, starts: Mapping[str, int], seed: int, go_on: Callable[[Worth], bool]) -> dict[str, int]:
    """Change priorities a few at a time, and keep what is no worse.

    Parameters
    ----------
    problem : Problem
        Checked.
    starts : mapping of str to int
        To begin with, in periods.
    seed : int
        Of chance; the same one takes the same steps [dimensionless].
    go_on : callable
        Asked before each step, with the worth of the best so far.

    Returns
    -------
    dict of str to int
        At least as good.
    """
    chance = Random(seed)  # noqa: S311 - no secret hangs on it
    names = [activity.id for activity in problem.open if activity.pinned is None]
    commissions: dict[str, list[str]] = {}
    for activity in problem.open:
        commissions.setdefault(activity.commission, []).append(activity.id)
    best = dict(starts)
    best_worth = worth(problem, best)
    order: dict[str, float] = {name: float(start) for name, start in best.items()}
    floors = {name: period for name, period in problem.published.items() if name in best and best[name] >= period}
    while names and go_on(best_worth):
        changed, lower = dict(order), dict(floors)
        spread = max(best_worth[2] * chance.choice(SPREADS), 1.0)
        if chance.random() < TOGETHER:
            later = chance.gauss(0, spread)
            for name in commissions[chance.choice(sorted(commissions))]:
                changed[name] += later
        else:
            among = _among(problem, best, names, chance)
            for name in chance.sample(among, min(chance.choice(HANDFULS), len(among))):
                changed[name] += chance.gauss(0, spread)
                if chance.random() < LOOSENED:
                    lower.pop(name, None)
        try:
            found = place(problem, sequence(problem, changed), lower)
        except EstimatorError:
            # In this order the calendar ends too soon, or a place is never left.
            continue
        if worth(problem, found) <= best_worth:
            best, best_worth, order, floors = found, worth(problem, found), changed, lower
    return best


def _among(problem: Problem, best: Mapping[str, int], names: list[str], chance: Random) -> list[str]:
    """What to change: mostly what has moved from the published plan, where anything has."""
    moved = [name for name in names if best[name] != problem.published.get(name, best[name])]
    return moved if moved and chance.random() < MOVED_FIRST else names
