"""When it may be done, work and waits being what they are: the plan played through many times by chance.

Monte Carlo (Van Slyke, 1963). Each run draws every duration from the triangle
over its low, likely and high; work of one kind draws one share in each run,
because a norm that is wrong is wrong everywhere at once (common practice, no
source). A wait that somebody outside ends is drawn from its triangle too, each
by itself, and the weather is one of its courses. Over all runs each of these
comes once from every slice of its range (Latin hypercube: McKay, Beckman and
Conover, 1979, from memory), so that few runs tell as much as many. Activities
are then placed by the serial schedule in the plan's order. Cures and releases
stay as they are.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from random import Random

from jobs.figures.plan.goals import last_ends
from jobs.figures.plan.problem import Activity, After, Away, Problem
from jobs.figures.plan.result import Plan
from jobs.figures.plan.sequence import sequence
from jobs.figures.plan.serial import place
from jobs.figures.threepoint import ThreePoint
from materials.estimator.ranges import rounded_up, whole

METHOD = (
    "Monte Carlo simulation, Latin hypercube of triangular durations and waits, serial schedule in the plan's order"
)
RUNS = 100
"""As sure of P80 as three hundred runs without slices (measured: a quarter of a day)."""
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
    begins, ends : float
        Where the activity is a piece of something longer whose ``periods`` these are, from which share of it to which
        [dimensionless].
    """

    periods: ThreePoint
    kind: str
    begins: float = 0.0
    ends: float = 1.0


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
    problem: Problem,
    plan: Plan,
    spreads: Mapping[str, Spread],
    *,
    seed: int,
    runs: int = RUNS,
    away: Mapping[str, Sequence[tuple[Away, ...]]] | None = None,
) -> dict[str, Finish]:
    """Play a plan through with durations, waits and weather by chance.

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
    away : mapping of str to sequence of tuple of Away, optional
        Courses that the absences of a resource may take, each as likely as any other; by default they are as planned.

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
    drawing = _Drawing(problem, spreads, away or {}, seed, runs)
    order = {name: float(start) for name, start in plan.starts.items()}
    ordered = sequence(problem, order)
    ends: dict[str, list[int]] = {activity.commission: [] for activity in problem.open}
    for run in range(runs):
        drawn = drawing.of(run)
        starts = place(drawn, ordered)
        for commission, end in last_ends(drawn, starts).items():
            ends[commission].append(end)
    return {commission: Finish(tuple(sorted(found))) for commission, found in ends.items()}


class _Drawing:
    """The problem as it may turn out, run after run."""

    def __init__(
        self,
        problem: Problem,
        spreads: Mapping[str, Spread],
        away: Mapping[str, Sequence[tuple[Away, ...]]],
        seed: int,
        runs: int,
    ) -> None:
        self.problem, self.spreads = problem, spreads
        self.away = {each.id: away[each.id] for each in problem.resources if each.id in away}
        chance = Random(seed)  # noqa: S311 - no secret hangs on it
        waits = {link.activity for each in problem.open for link in each.after if link.sooner or link.later}
        kinds = {spread.kind for spread in spreads.values()}
        self.kinds, self.waits, self.courses = (
            {name: _shares(chance, runs) for name in sorted(names)} for names in (kinds, waits, self.away)
        )

    def of(self, run: int) -> Problem:
        """The problem of one run."""
        kinds, waits, courses = (
            {name: shares[run] for name, shares in each.items()} for each in (self.kinds, self.waits, self.courses)
        )
        away = {name: self.away[name][int(_inner(share) * len(self.away[name]))] for name, share in courses.items()}
        return replace(
            self.problem,
            activities=tuple(self._activity(each, kinds, waits) for each in self.problem.activities),
            resources=tuple(
                replace(each, away=away[each.id]) if each.id in away else each for each in self.problem.resources
            ),
        )

    def _activity(self, each: Activity, shares: Mapping[str, float], waits: Mapping[str, float]) -> Activity:
        if each.done:
            return each
        if any(link.activity in waits for link in each.after):
            each = replace(each, after=tuple(_link(link, waits) for link in each.after))
        spread = self.spreads.get(each.id)
        return replace(each, duration=_duration(spread, shares[spread.kind])) if spread else each


def _shares(chance: Random, runs: int) -> list[float]:
    """One share for each run, each from a slice of its own as wide as any other, in an order by chance."""
    slices = list(range(runs))
    chance.shuffle(slices)
    return [(each + 1 - chance.random()) / runs for each in slices]


def _link(link: After, waits: Mapping[str, float]) -> After:
    if not (link.sooner or link.later):
        return link
    hold = ThreePoint(float(link.hold - link.sooner), float(link.hold), float(link.hold + link.later))
    return replace(link, hold=round(hold.triangular_quantile(_inner(waits[link.activity]))))


def _duration(spread: Spread, share: float) -> int:
    whole_part = spread.periods.triangular_quantile(_inner(share))
    return rounded_up(whole_part * spread.ends) - rounded_up(whole_part * spread.begins)


def _inner(share: float) -> float:
    return min(share, 1 - 1e-9)
