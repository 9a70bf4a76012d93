"""The working periods that a plan runs in, and the clock that its holds run by; this alone turns one into the other."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Calendar:
    """The working periods there are, and the clock's time between them.

    Attributes
    ----------
    clock : sequence of int
        When each period begins, counted from when the first one does, so it begins with 0 and rises [min].
        Its length is the horizon: nothing is planned after it.
    minutes : int
        How long a period lasts; no two overlap [min].

    Notes
    -----
    A workshop takes quarters of a working day: a crew is not moved more often, and a section's stages are
    hours to days. Where holds are counted in periods too, ``Calendar(range(n), 1)``.
    """

    clock: Sequence[int]
    minutes: int

    @property
    def horizon(self) -> int:
        """How many periods there are."""
        return len(self.clock)

    def begins(self, period: int) -> int:
        """The time by the clock when a period begins.

        Parameters
        ----------
        period : int

        Returns
        -------
        int
            From the beginning of period 0 [min]; of the horizon, the end of the calendar.
        """
        return self.clock[period] if period < self.horizon else self.clock[-1] + self.minutes

    def over(self, start: int, end: int) -> int:
        """The time by the clock when work is over.

        Parameters
        ----------
        start, end : int
            Its first period, and the first one after it. Where they are the same it is over as that period begins.

        Returns
        -------
        int
            From the beginning of period 0 [min].
        """
        return self.begins(start) if start == end else self.clock[end - 1] + self.minutes

    def first_from(self, minute: int) -> int:
        """The first period that begins at a time or after it.

        Parameters
        ----------
        minute : int
            From the beginning of period 0 [min].

        Returns
        -------
        int
            The horizon where none does and only an event could come, one more where the calendar has ended by then.
        """
        found = bisect_left(self.clock, minute)
        return found if found < self.horizon or minute <= self.begins(self.horizon) else found + 1

    def ready(self, start: int, end: int, hold: int) -> int:
        """The first period that begins when a hold after some work is over.

        Parameters
        ----------
        start, end : int
            The work's first period, and the first one after it.
        hold : int
            [min]

        Returns
        -------
        int
            As of ``first_from``.
        """
        return self.first_from(self.over(start, end) + hold) if hold else end

    def latest_end(self, duration: int, hold: int, start: int) -> int:
        """When work must end at the latest for what waits for it to begin in a period.

        Parameters
        ----------
        duration : int
            Of the work, in periods.
        hold : int
            Between the two [min].
        start : int
            Of what waits.

        Returns
        -------
        int
            The first period after the work; with ``ready`` no later than ``start``.
        """
        if not hold or start < 0:
            return start
        begins = self.begins(start)
        ended = bisect_right(self.clock, begins - hold - self.minutes)
        # An event is over as its period begins, work as its last period ends.
        return ended if duration else bisect_right(self.clock, begins - hold) - 1
