"""How late each activity may begin in a plan before a date moves, with people, places and their order as they are.

The plan is pushed to the right: from what ends last to what ends first, each
activity as late as its followers, its hands and its place let it. What has been
pushed takes nothing that an earlier activity has where it stands, so none ever
has to begin sooner (justification; Wiest, 1964).
"""

from collections.abc import Iterator

from jobs.figures.plan.goals import last_ends
from jobs.figures.plan.problem import Activity, Away, Problem, Resource
from jobs.figures.plan.profile import Profile, first_free
from jobs.figures.plan.result import Plan
from jobs.figures.plan.uses import Use, uses


def latest_in_plan(problem: Problem, plan: Plan) -> dict[str, int]:
    """The latest start of each activity that keeps the date of its commission.

    Parameters
    ----------
    problem : Problem
    plan : Plan

    Returns
    -------
    dict of str to int
        In periods, never before the plan's own. The date is the later of the due date and the plan's own end; all
        together are still a plan.
    """
    return _Pushing(problem, plan).starts()


class _Pushing:
    """Activities pushed so far, on an axis that runs backward, so that late is early."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem, self.plan = problem, plan
        self.latest: dict[str, int] = {}
        taken = uses(problem, plan)
        self.targets = _targets(problem, plan)
        self.end = max([*self.targets.values(), *(use.end for use in taken)], default=0)
        places = {stay.resource for stay in problem.stays}
        self.in_places = [use for use in taken if use.resource in places]
        self.free = {
            resource.id: Profile(self._backward(resource))
            for resource in problem.resources
            if resource.id not in places
        }

    def _backward(self, resource: Resource) -> Resource:
        away = tuple(Away(self.end - each.end, self.end - each.start, each.units) for each in resource.away)
        return Resource(resource.id, resource.capacity, away)

    def starts(self) -> dict[str, int]:
        order = {activity.id: number for number, activity in enumerate(self.problem.ordered)}
        ends = self.plan.ends
        for activity in sorted(self.problem.open, key=lambda each: (ends[each.id], order[each.id]), reverse=True):
            self.latest[activity.id] = self._latest(activity)
        return {activity.id: self.latest[activity.id] for activity in self.problem.open}

    def _latest(self, activity: Activity) -> int:
        start = self.plan.starts[activity.id]
        if activity.pinned is not None:
            return start
        end = min([self.targets[activity.commission], *self._by_followers(activity), *self._by_places(activity)])
        wanted = [
            (self.free[name], units, activity.duration) for name, units in activity.needs.items() if name in self.free
        ]
        begins = first_free(wanted, self.end - max(end, start + activity.duration))
        for profile, units, duration in wanted:
            profile.take(begins, begins + duration, units)
        return self.end - begins - activity.duration

    def _by_followers(self, activity: Activity) -> Iterator[int]:
        """By when it has to end for what waits for it."""
        for name in self.problem.followers[activity.id]:
            for link in self.problem.by_id[name].after:
                if link.activity == activity.id:
                    yield self.problem.calendar.latest_end(activity.duration, link.hold, self.latest[name])

    def _by_places(self, activity: Activity) -> Iterator[int]:
        """By when it has to end for what comes after it in a place that it leaves, and for the place to be there."""
        for use in self.in_places:
            if use.last == activity.id:
                for limit in self._after(use):
                    yield self.problem.calendar.latest_end(activity.duration, use.hold, limit)

    def _after(self, use: Use) -> Iterator[int]:
        for other in self.in_places:
            if other.resource == use.resource and other.start >= use.end:
                yield self.latest.get(other.first, other.start)
        for resource in self.problem.resources:
            if resource.id == use.resource:
                yield from (away.start for away in resource.away if away.start >= use.end)


def _targets(problem: Problem, plan: Plan) -> dict[str, int]:
    """The period by which each commission is done."""
    dues = {commission.id: commission.due or 0 for commission in problem.commissions}
    return {name: max(end, dues.get(name, 0)) for name, end in last_ends(problem, plan.starts).items()}
