"""When it may be done, hours being what they are: the plan played through many times with durations by chance.

Monte Carlo (Van Slyke, 1963). Each run draws every duration from the triangle
over its low, likely and high; work of one kind draws one share in each run,
because a norm that is wrong is wrong everywhere at once (common practice, no
source). Activities are then placed by the serial schedule in the plan's order.
Holds, releases and absences stay as they are.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil
from random import Random

from jobs.figures.plan.goals import last_ends
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import Plan
from jobs.figures.plan.sequence import sequence
from jobs.figures.plan.serial import place
from jobs.figures.threepoint import ThreePoint
from materials.estimator.ranges import rounded_up, whole

METHOD = "Monte Carlo simulation, triangular durations, serial schedule in the plan's order"
RUNS = 300
MOST_RUNS = 10_000


@dataclass(frozen=True, slots=True)
class Spread:
    """The duration of an activity by a three-point estimate.

    Attributes
    ----------
    periods : ThreePoint
        [dimensionless]
    kind : str
        Activities of one kind take longer or less long together: the step, where norms are by step.
    """

    periods: ThreePoint
    kind: str


@dataclass(frozen=True, slots=True)
class Finish:
    """When a commission is done, over all runs.

    Attributes
    ----------
    ends : tuple of int
        The period by whose beginning it was done in each run, the soonest first.
    """

    ends: tuple[int, ...]

    def within(self, share: float) -> int:
        """The period by whose beginning it is done in a share of the runs.

        Parameters
        ----------
        share : float
            Above 0 and at most 1; 0.8 for P80 [dimensionless].

        Returns
        -------
        int
        """
        return self.ends[max(ceil(share * len(self.ends)) - 1, 0)]

    @property
    def p50(self) -> int:
        """The period by whose beginning it is done in every second run."""
        return self.within(0.5)

    @property
    def p80(self) -> int:
        """The period by whose beginning it is done in four runs of five."""
        return self.within(0.8)


def finishes(
    problem: Problem, plan: Plan, spreads: Mapping[str, Spread], *, seed: int, runs: int = RUNS
) -> dict[str, Finish]:
    """Play a plan through with durations by chance.

    Parameters
    ----------
    problem : Problem
    plan : Plan
    spreads : mapping of str to Spread
        By activity; those that are not named last as long as planned.
    seed : int
        The same one gives the same finishes [dimensionless].
    runs : int
        [each]

    Returns
    -------
    dict of str to Finish
        By commission, those with something left to do.

    Raises
    ------
    EstimatorError
        When the calendar is too short for a run.
    """
    whole("runs of the simulation", runs, "", 1, MOST_RUNS)
    chance = Random(seed)  # noqa: S311 - no secret hangs on it
    order = {name: float(start) for name, start in plan.starts.items()}
    ordered = sequence(problem, order)
    ends: dict[str, list[int]] = {activity.commission: [] for activity in problem.open}
    for _ in range(runs):
        drawn = _drawn(problem, spreads, chance)
        starts = place(drawn, ordered)
        for commission, end in last_ends(drawn, starts).items():
            ends[commission].append(end)
    return {commission: Finish(tuple(sorted(found))) for commission, found in ends.items()}


def _drawn(problem: Problem, spreads: Mapping[str, Spread], chance: Random) -> Problem:
    """The problem with the durations of one run."""
    shares = {kind: 1 - chance.random() for kind in sorted({spread.kind for spread in spreads.values()})}
    activities = tuple(
        replace(each, duration=_duration(spreads[each.id], shares)) if each.id in spreads and not each.done else each
        for each in problem.activities
    )
    return replace(problem, activities=activities)


def _duration(spread: Spread, shares: Mapping[str, float]) -> int:
    share = min(shares[spread.kind], 1 - 1e-9)
    return rounded_up(spread.periods.triangular_quantile(share))
