"""A plan made by placing one activity after another, each as early as it can: quick, always the same, never proven.

Serial schedule generation (Kelley, 1963). The rule of priority: of the
activities whose predecessors are placed, the one whose latest start by the
critical path comes first; of equals, the one named first; work in hand before
all. Where a stay runs into a later one in the same place, it is taken back and
begun after it.
"""

from collections.abc import Iterable, Mapping

from jobs.figures.plan.bounds import least
from jobs.figures.plan.goals import planned
from jobs.figures.plan.network import critical_path
from jobs.figures.plan.problem import Activity, Problem, Stay
from jobs.figures.plan.profile import NEVER, Profile, first_free
from jobs.figures.plan.result import Plan
from jobs.figures.plan.sequence import sequence
from materials.estimator.errors import EstimatorError, shown

SERIAL = "serial"


def serial_plan(problem: Problem, order: Mapping[str, float] | None = None) -> Plan:
    """A plan by the rule of priority.

    Parameters
    ----------
    problem : Problem
        Checked.
    order : mapping of str to float, optional
        What goes first, the least first [dimensionless]; by default the latest start of each activity.

    Returns
    -------
    Plan
        Valid, with the bounds of the critical path.

    Raises
    ------
    EstimatorError
        When something never finds a place, or none before the calendar ends.
    """
    starts = place(problem, sequence(problem, by_latest_start(problem) if order is None else order))
    return planned(problem, starts, least(problem), SERIAL)


def by_latest_start(problem: Problem) -> dict[str, float]:
    """The rule of priority: what must begin soonest goes first.

    Parameters
    ----------
    problem : Problem
        Checked.

    Returns
    -------
    dict of str to float
        The latest start by the critical path, in periods [dimensionless].

    References
    ----------
    Minimum latest start, one of the rules compared by Kolisch (1996), from memory.
    """
    return {name: float(times.latest_start) for name, times in critical_path(problem).items()}


def place(problem: Problem, ordered: Iterable[str], not_before: Mapping[str, int] | None = None) -> dict[str, int]:
    """Place activities one after another, each as early as what is placed before it lets it.

    Parameters
    ----------
    problem : Problem
        Checked.
    ordered : iterable of str
        By ``sequence``, for this problem or one that differs in durations only.
    not_before : mapping of str to int, optional
        Periods before which some shall not begin, on top of their releases.

    Returns
    -------
    dict of str to int
        Their starts, in periods.

    Raises
    ------
    EstimatorError
        When something never finds a place, or none before the calendar ends.
    """
    placing = _Placing(problem, ordered, not_before or {})
    while placing.left:
        placing.place_next()
    return placing.starts


class _Placing:
    """What is placed so far and what it leaves free; the last ones can be taken back."""

    def __init__(self, problem: Problem, ordered: Iterable[str], not_before: Mapping[str, int]) -> None:
        self.problem = problem
        self.left = list(ordered)
        self.starts: dict[str, int] = {}
        self.not_before = not_before
        self.put_off: dict[str, int] = {}
        self.free = {resource.id: Profile(resource) for resource in problem.resources}
        self.taken: dict[str, list[tuple[Profile, int, int, int]]] = {}
        self.opening: dict[str, list[Stay]] = {}
        self.closing: dict[str, list[Stay]] = {}
        for stay in problem.stays:
            self._know(stay)

    def _know(self, stay: Stay) -> None:
        """File a stay by its first and last; one that has begun has its place from now on."""
        first, last = self.problem.by_id[stay.first], self.problem.by_id[stay.last]
        if last.ended is not None:
            until = self.problem.calendar.first_from(last.ended + stay.hold)
            self.free[stay.resource].take(0, until, stay.units)
            return
        self.closing.setdefault(stay.last, []).append(stay)
        if first.done:
            self.free[stay.resource].take(0, NEVER, stay.units)
        else:
            self.opening.setdefault(stay.first, []).append(stay)

    def place_next(self) -> None:
        """Place the first that can be: what waits for a place that something stays in lets others go before it."""
        for number, name in enumerate(self.left):
            start = self._earliest(self.problem.by_id[name])
            if start is not None:
                del self.left[number]
                self._place(self.problem.by_id[name], start)
                return
        called = shown(self.problem.by_id[self.left[0]].called)
        message = f"{called} never finds its place free; look at what stays there, and let it out first."
        raise EstimatorError("plan", self.left[0], message)

    def _earliest(self, activity: Activity) -> int | None:
        """The first start at which all it needs is free; None while there is none."""
        if not all(link.activity in self.starts or self.problem.by_id[link.activity].done for link in activity.after):
            return None
        if activity.pinned is not None:
            return activity.pinned
        ready = [self.problem.ready(link, self.starts) for link in activity.after]
        start = max([activity.release, self.not_before.get(activity.id, 0), self.put_off.get(activity.id, 0), *ready])
        # An event needs nothing, but what begins to stay with it does from then on.
        wanted = [(self.free[name], units, activity.duration) for name, units in activity.needs.items()]
        for stay in self.opening.get(activity.id, ()):
            wanted.append((self.free[stay.resource], stay.units, max(activity.duration, 1)))
        start = first_free(wanted, start)
        return start if start < NEVER else None

    def _place(self, activity: Activity, start: int) -> None:
        end = self.problem.end_of(activity, start)
        self.starts[activity.id] = start
        self.taken[activity.id] = []
        for resource, units in activity.needs.items():
            self._take(activity.id, resource, start, end, units)
        for stay in self.opening.get(activity.id, ()):
            until = NEVER if stay.last != activity.id else self.problem.calendar.ready(start, end, stay.hold)
            self._take(activity.id, stay.resource, start, until, stay.units)
        if activity.pinned is not None:
            self._check_in_hand(activity, start, end)
        for stay in self.closing.get(activity.id, ()):
            until = self.problem.calendar.ready(start, end, stay.hold)
            if stay.first != activity.id:
                self._take(activity.id, stay.resource, until, NEVER, -stay.units)
            again = self.free[stay.resource].short_until(self.starts.get(stay.first, 0), until)
            if again is not None:
                self._begin_after(stay, again)
                return

    def _check_in_hand(self, activity: Activity, start: int, end: int) -> None:
        stays = [stay.resource for stay in self.opening.get(activity.id, ())]
        for resource in (*activity.needs, *stays):
            if self.free[resource].short_until(start, end) is not None:
                why = f"what it needs of {shown(resource)} is taken by other work in hand"
                message = f"{shown(activity.called)} is in hand, but {why}; say which of it rests."
                raise EstimatorError("work in hand", activity.id, message)

    def _take(self, name: str, resource: str, start: int, end: int, units: int) -> None:
        self.free[resource].take(start, end, units)
        self.taken[name].append((self.free[resource], start, end, units))

    def _begin_after(self, stay: Stay, period: int) -> None:
        """Take back all that was placed since a stay began, and let it begin in a later period."""
        first = self.problem.by_id[stay.first]
        if first.done or first.pinned is not None:
            message = f"{shown(stay.resource)} is taken twice by work in hand; say which of it is in that place."
            raise EstimatorError("work in hand", stay.first, message)
        placed = list(self.starts)
        undone = placed[placed.index(stay.first) :]
        for name in undone:
            del self.starts[name]
            self.put_off.pop(name, None)
            for profile, start, end, units in self.taken.pop(name):
                profile.take(start, end, -units)
        self.put_off[stay.first] = period
        self.left = undone + self.left
