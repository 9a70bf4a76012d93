"""A hold over the calendar's gaps, in pieces that a solver can take."""

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.figures.plan.calendar import Calendar


@dataclass(frozen=True, slots=True)
class Piece:
    """For work that begins in a stretch of periods, when at the earliest what waits for it may begin.

    Attributes
    ----------
    first, last : int
        The stretch, ends included.
    ready : int
        For work that begins in the first period of the stretch.
    rising : bool
        Whether each later start makes it one period later, or makes no difference: then the hold is over while
        nobody works, such as at night.
    """

    first: int
    last: int
    ready: int
    rising: bool

    @property
    def lag(self) -> int:
        """From the start of the work to that of what waits, at the beginning of the stretch."""
        return self.ready - self.first


def pieces(calendar: Calendar, duration: int, hold: int, first: int, last: int) -> tuple[Piece, ...]:
    """A hold after work that begins between two periods.

    Parameters
    ----------
    calendar : Calendar
    duration : int
        Of the work, in periods.
    hold : int
        [min]
    first, last : int
        Between which the work begins, ends included.

    Returns
    -------
    tuple of Piece
        In order, without gaps.
    """
    return tuple(_found(calendar, duration, hold, first, last))


def _found(calendar: Calendar, duration: int, hold: int, first: int, last: int) -> Iterator[Piece]:
    ready = [calendar.ready(start, start + duration, hold) for start in range(first, last + 1)]
    begin = 0
    while begin < len(ready):
        end = begin + 1
        step = ready[end] - ready[begin] if end < len(ready) else 1
        if step not in (0, 1):
            step = 1
        else:
            while end < len(ready) and ready[end] - ready[end - 1] == step:
                end += 1
        yield Piece(first + begin, first + end - 1, ready[begin], rising=step == 1)
        begin = end
