"""In which order activities are placed, so that no stay waits for a place that another one waits to leave."""

from collections.abc import Iterable, Mapping

from jobs.figures.plan.problem import Problem


def sequence(problem: Problem, order: Mapping[str, float]) -> tuple[str, ...]:
    """The activities that are not done, each after all it waits for, and by priority otherwise.

    A stay is seen through: once it is begun only what it ends with, and what that waits for, comes next. It is not
    begun before whatever else its end waits for has its place.

    Parameters
    ----------
    problem : Problem
        Checked.
    order : mapping of str to float
        What goes first, the least first [dimensionless]; of equals, the one the problem names first.

    Returns
    -------
    tuple of str
    """
    return tuple(_Sequence(problem, order).ordered())


class _Sequence:
    """What is left to place, and the stays that are begun and not ended, the newest last."""

    def __init__(self, problem: Problem, order: Mapping[str, float]) -> None:
        self.problem = problem
        ranked = sorted(problem.open, key=lambda activity: (activity.pinned is None, order[activity.id]))
        self.rank = {activity.id: rank for rank, activity in enumerate(ranked)}
        self.placed = {activity.id for activity in problem.activities if activity.done}
        self.waiting = {name: len(problem.awaited[name] - self.placed) for name in self.rank}
        self.free = {name for name, count in self.waiting.items() if not count}
        self.opened = [stay for stay in problem.stays if stay.first in self.placed and stay.last not in self.placed]

    def ordered(self) -> list[str]:
        """All that is left, in the order in which to place it."""
        found = []
        while self.free:
            name = self._next()
            found.append(name)
            self.free.remove(name)
            self.placed.add(name)
            for follower in self.problem.followers[name]:
                self.waiting[follower] -= 1
                if not self.waiting[follower]:
                    self.free.add(follower)
            self.opened += self.problem.begun_by.get(name, ())
            self.opened = [stay for stay in self.opened if stay.last != name]
        return found

    def _next(self) -> str:
        """The first by priority of those that end the newest stay, or of all; best if it can be seen through."""
        free: Iterable[str] = self.free
        if not self.problem.stays:
            return min(free, key=self.rank.__getitem__)
        if self.opened:
            last = self.opened[-1].last
            free = [name for name in free if name == last or name in self.problem.ancestors[last]]
        by_rank = sorted(free, key=self.rank.__getitem__)
        return next((name for name in by_rank if self._can_be_seen_through(name)), by_rank[0])

    def _can_be_seen_through(self, name: str) -> bool:
        return all(self.problem.outside[stay] <= self.placed for stay in self.problem.begun_by.get(name, ()))
