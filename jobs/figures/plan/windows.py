"""Between which periods each activity may begin in a plan that is better than the one there is."""

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.figures.plan.goals import GOALS, measured
from jobs.figures.plan.network import earliest_starts, latest_starts
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import FINISH, LATENESS, MOVES


@dataclass(frozen=True, slots=True)
class Window:
    """The first and the last period in which an activity may begin."""

    first: int
    last: int


def windows(problem: Problem, starts: Mapping[str, int], goal: str) -> dict[str, Window]:
    """Where a plan may have its activities that is no worse in any goal up to one.

    Parameters
    ----------
    problem : Problem
        Checked.
    starts : mapping of str to int
        Of the plan there is, in periods.
    goal : str
        Up to which its values are kept.

    Returns
    -------
    dict of str to Window
        Each holds the start there is, and that of every plan no worse.
    """
    values = measured(problem, starts)
    kept = GOALS[: GOALS.index(goal) + 1]
    last_end = values[FINISH] if FINISH in kept else problem.calendar.horizon
    dues = {
        commission.id: commission.due + values[LATENESS] // commission.weight
        for commission in problem.commissions
        if commission.due is not None
    }
    ends = {activity.id: min(last_end, dues.get(activity.commission, last_end)) for activity in problem.open}
    first, last = earliest_starts(problem), latest_starts(problem, ends)
    found = {}
    for activity in problem.open:
        low, high = first[activity.id], last[activity.id]
        if MOVES in kept and activity.id in problem.published:
            period = problem.published[activity.id]
            low, high = max(low, period - values[MOVES]), min(high, period + values[MOVES])
        found[activity.id] = Window(low, high if activity.pinned is None else activity.pinned)
    return found


def near(found: Mapping[str, Window], starts: Mapping[str, int], reach: int) -> dict[str, Window]:
    """The parts of windows that lie around a plan.

    Parameters
    ----------
    found : mapping of str to Window
    starts : mapping of str to int
        Of the plan, in periods.
    reach : int
        How many periods before and after them.

    Returns
    -------
    dict of str to Window
    """
    return {
        name: Window(max(window.first, starts[name] - reach), min(window.last, starts[name] + reach))
        for name, window in found.items()
    }
