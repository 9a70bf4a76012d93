"""What is free of one resource, period by period."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate, cycle

from jobs.figures.plan.problem import Resource

NEVER = 1 << 60
"""A period that no calendar reaches."""


@lru_cache(maxsize=256)
def _there(resource: Resource) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """When how many units are there: the times at which that changes, and what is free from each on."""
    changes = Counter({0: resource.capacity})
    for away in resource.away:
        changes[max(away.start, 0)] -= away.units
        changes[max(away.end, 0)] += away.units
    times = sorted(time for time, change in changes.items() if change or not time)
    return tuple(times), tuple(accumulate(changes[time] for time in times))


class Profile:
    """Free units of a resource over time, as steps: each level holds from its time to the next.

    Parameters
    ----------
    resource : Resource
    """

    def __init__(self, resource: Resource) -> None:
        times, free = _there(resource)
        self._times, self._free = list(times), list(free)

    def take(self, start: int, end: int, units: int) -> None:
        """Take units from one period up to another; fewer than none are given back.

        Parameters
        ----------
        start, end : int
            The second one excluded.
        units : int
            [each]
        """
        if start >= end:
            return
        first, last = self._step_at(start), self._step_at(end)
        for step in range(first, last):
            self._free[step] -= units

    def earliest(self, start: int, duration: int, units: int) -> int:
        """When units are first free for long enough.

        Parameters
        ----------
        start : int
            Not before this period.
        duration : int
            In periods.
        units : int
            [each]

        Returns
        -------
        int
            ``NEVER`` where they stay taken. What takes no time needs nothing.
        """
        if not duration:
            return start
        times, free = self._times, self._free
        steps, end = len(times), start + duration
        step = bisect_right(times, start) - 1
        while step < steps and times[step] < end:
            if free[step] < units:
                start = times[step + 1] if step + 1 < steps else NEVER
                end = start + duration
            step += 1
        return start

    def short_until(self, start: int, end: int) -> int | None:
        """Where more is taken than there is: the first period from which it is not so any more.

        Parameters
        ----------
        start, end : int
            Where to look, the second one excluded.

        Returns
        -------
        int or None
            None where enough is there throughout.
        """
        step = max(bisect_right(self._times, start) - 1, 0)
        while step < len(self._times) and self._times[step] < end:
            if self._free[step] < 0:
                return self._times[step + 1]
            step += 1
        return None

    def _step_at(self, time: int) -> int:
        """The step that begins at a time, made where there is none."""
        step = bisect_right(self._times, time) - 1
        if self._times[step] != time:
            step += 1
            self._times.insert(step, time)
            self._free.insert(step, self._free[step - 1])
        return step


def first_free(wanted: Iterable[tuple[Profile, int, int]], start: int) -> int:
    """When everything wanted is free at once, each for as long as it takes.

    Parameters
    ----------
    wanted : iterable of (Profile, int, int)
        What, how many units [each], and for how many periods.
    start : int
        Not before this period.

    Returns
    -------
    int
        ``NEVER`` where something stays taken.
    """
    wanted = list(wanted)
    # Round and round until none of them has moved it since it was last asked.
    agreed = 0
    for profile, units, duration in cycle(wanted):
        found = profile.earliest(start, duration, units)
        agreed = agreed + 1 if found == start else 1
        start = found
        if agreed == len(wanted) or start >= NEVER:
            break
    return start
