"""What a plan aims at, in the order in which it counts: punctual, near to the published plan, done early."""

from collections.abc import Mapping

from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import FINISH, LATENESS, MOVES, Goal, Plan

GOALS = (LATENESS, MOVES, FINISH)


def measured(problem: Problem, starts: Mapping[str, int]) -> dict[str, int]:
    """What starts reach in each goal.

    Parameters
    ----------
    problem : Problem
    starts : mapping of str to int
        Of every activity that is not done, in periods.

    Returns
    -------
    dict of str to int
        By the goals' keys, in their order.
    """
    finishes = last_ends(problem, starts)
    late = sum(
        commission.weight * max(0, finishes.get(commission.id, 0) - commission.due)
        for commission in problem.commissions
        if commission.due is not None
    )
    moves = sum(abs(starts[name] - period) for name, period in problem.published.items() if name in starts)
    return {LATENESS: late, MOVES: moves, FINISH: max(finishes.values(), default=0)}


def last_ends(problem: Problem, starts: Mapping[str, int]) -> dict[str, int]:
    """When each commission is done.

    Parameters
    ----------
    problem : Problem
    starts : mapping of str to int
        Of every activity that is not done, in periods.

    Returns
    -------
    dict of str to int
        The period by whose beginning it is, by commission.
    """
    found: dict[str, int] = {}
    for activity in problem.open:
        end = starts[activity.id] + activity.duration
        found[activity.commission] = max(found.get(activity.commission, 0), end)
    return found


def planned(problem: Problem, starts: Mapping[str, int], bounds: Mapping[str, int], method: str) -> Plan:
    """A plan from its starts.

    Parameters
    ----------
    problem : Problem
    starts : mapping of str to int
        Of every activity that is not done, in periods.
    bounds : mapping of str to int
        What no plan goes below, by the goals' keys.
    method : str

    Returns
    -------
    Plan
    """
    values = measured(problem, starts)
    ends = {name: start + problem.by_id[name].duration for name, start in starts.items()}
    goals = tuple(Goal(key, values[key], min(values[key], bounds[key])) for key in GOALS)
    return Plan(starts, ends, goals, method)
