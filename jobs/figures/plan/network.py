"""The critical path: what waits for what, people and places left aside.

Critical path method (Kelley and Walker, 1959): earliest times forward from
releases, latest times backward from the target, slack between them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.figures.plan.problem import Problem


@dataclass(frozen=True, slots=True)
class Times:
    """When an activity can and must run, people and places left aside, in periods.

    Attributes
    ----------
    earliest_start, earliest_end : int
    latest_start, latest_end : int
        Such that its commission's target is still met: the due date, or where that cannot be, the earliest end
        of the commission.
    """

    earliest_start: int
    earliest_end: int
    latest_start: int
    latest_end: int

    @property
    def slack(self) -> int:
        """By how many periods it may begin later; 0 on the critical path."""
        return self.latest_start - self.earliest_start


def earliest_starts(problem: Problem) -> dict[str, int]:
    """The earliest start of each activity that is not done, with all the hands and places in the world.

    Parameters
    ----------
    problem : Problem
        Checked.

    Returns
    -------
    dict of str to int
        In periods.
    """
    starts: dict[str, int] = {}
    for activity in problem.ordered:
        if activity.done:
            continue
        if activity.pinned is not None:
            starts[activity.id] = activity.pinned
        else:
            starts[activity.id] = max([activity.release, *(problem.ready(link, starts) for link in activity.after)])
        problem.end_of(activity, starts[activity.id])
    return starts


def critical_path(problem: Problem) -> dict[str, Times]:
    """Earliest and latest times of each activity that is not done, and its slack.

    Parameters
    ----------
    problem : Problem
        Checked.

    Returns
    -------
    dict of str to Times
        In the problem's order.
    """
    starts = earliest_starts(problem)
    ends = {name: start + problem.by_id[name].duration for name, start in starts.items()}
    targets = _targets(problem, ends)
    latest = latest_starts(problem, {activity.id: targets[activity.commission] for activity in problem.open})
    return {
        activity.id: Times(
            starts[activity.id], ends[activity.id], latest[activity.id], latest[activity.id] + activity.duration
        )
        for activity in problem.open
    }


def latest_starts(problem: Problem, ends: Mapping[str, int]) -> dict[str, int]:
    """The latest start of each activity for each to end in time, with all the hands and places in the world.

    Parameters
    ----------
    problem : Problem
        Checked.
    ends : mapping of str to int
        The period by whose beginning each activity that is not done has to end.

    Returns
    -------
    dict of str to int
        In periods; before the earliest start where the ends cannot be kept.
    """
    latest = dict(ends)
    for activity in reversed(problem.ordered):
        if activity.done:
            continue
        start = latest[activity.id] - activity.duration
        for link in activity.after:
            before = problem.by_id[link.activity]
            if not before.done:
                must_end = problem.calendar.latest_end(before.duration, link.hold, start)
                latest[before.id] = min(latest[before.id], must_end)
    return {name: end - problem.by_id[name].duration for name, end in latest.items()}


def _targets(problem: Problem, ends: Mapping[str, int]) -> dict[str, int]:
    """The period by which each commission is to be done: its due date, or the soonest that can be."""
    soonest: dict[str, int] = {}
    for activity in problem.open:
        soonest[activity.commission] = max(soonest.get(activity.commission, 0), ends[activity.id])
    dues = {commission.id: commission.due for commission in problem.commissions if commission.due is not None}
    last = max([*soonest.values(), *dues.values()], default=0)
    return {name: max(dues.get(name, last), end) for name, end in soonest.items()}
