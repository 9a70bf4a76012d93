"""A plan, and how good it is known to be."""

from collections.abc import Mapping
from dataclasses import dataclass

LATENESS = "lateness"
MOVES = "moves"
FINISH = "finish"


@dataclass(frozen=True, slots=True)
class Goal:
    """One of the things a plan aims at; the less the better.

    Attributes
    ----------
    key : str
        ``LATENESS``: periods late, each times its commission's weight. ``MOVES``: periods by which starts differ
        from the published plan. ``FINISH``: the period by whose beginning all is done.
    value : int
        What the plan reaches.
    bound : int
        What no plan goes below that is as good in the goals before this one.
    """

    key: str
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no plan does better."""
        return self.value <= self.bound


@dataclass(frozen=True, slots=True)
class Plan:
    """When each activity that is not done begins and ends.

    Attributes
    ----------
    starts : mapping of str to int
        Periods, by activity.
    ends : mapping of str to int
        The first period after each.
    goals : tuple of Goal
        Lateness, moves and finish, in the order in which they count.
    method : str
        "CP-SAT" or "serial", for the reader.
    """

    starts: Mapping[str, int]
    ends: Mapping[str, int]
    goals: tuple[Goal, ...]
    method: str

    @property
    def proven(self) -> bool:
        """Whether no plan is better."""
        return all(goal.proven for goal in self.goals)

    @property
    def makespan(self) -> int:
        """The period by whose beginning all is done."""
        return self.goal(FINISH).value

    @property
    def bound(self) -> int:
        """What the makespan of no plan goes below that is as punctual and as near to the published one."""
        return self.goal(FINISH).bound

    def goal(self, key: str) -> Goal:
        """The goal of a key.

        Parameters
        ----------
        key : str

        Returns
        -------
        Goal
        """
        return next(goal for goal in self.goals if goal.key == key)
