"""The best plan that a time allows: a serial schedule first, then CP-SAT, one goal after another.

Each goal is minimised while those before it are held at what they have reached.
A problem too large to state all its holds at once is improved by turns, by a
search over priorities and by the solver in a window around the best plan, which
moves along with it; its bounds are those of the critical path and of the work
there is. The search is seeded, but stops by the clock, and its
workers run side by side: twice the same only where the plan is proven and alone.
"""

from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass
from importlib.util import find_spec
from math import ceil, inf
from time import monotonic

from jobs.figures.plan.bounds import least
from jobs.figures.plan.checking import check
from jobs.figures.plan.goals import GOALS, measured, planned
from jobs.figures.plan.holds import pieces
from jobs.figures.plan.model import Model
from jobs.figures.plan.problem import Problem
from jobs.figures.plan.result import FINISH, LATENESS, MOVES, Plan
from jobs.figures.plan.search import Worth, first_starts, improve, worth
from jobs.figures.plan.sequence import sequence
from jobs.figures.plan.serial import SERIAL, place
from jobs.figures.plan.windows import Window, near, windows
from materials.estimator.errors import EstimatorError
from materials.estimator.ranges import within

CP_SAT = "CP-SAT"
WORKERS = 8
"""A wider portfolio beats fewer workers, on two cores too (measured)."""
SEED = 1
LONGEST_S = 3600.0
MOST_PIECES = 4_000
"""Of holds stated at once; above it the solver spends its time on stating them (measured), and the search goes on."""
REACH = 30
"""Periods before and after the best plan that a part of a large problem looks at: a week and a half in quarter-days."""
ROUND_S = 3.0
SHARES = {LATENESS: 0.5, MOVES: 0.6, FINISH: 1.0}
"""Of the time left, what a goal may take."""
SEARCH_SHARE = 0.5
TOLD_EVERY_S = 0.25


@dataclass(frozen=True, slots=True)
class Progress:
    """How far solving is.

    Attributes
    ----------
    goal : str
        The one being minimised.
    value, bound : int
        What the best plan so far reaches in it, and what none goes below.
    seconds : float
        Since solving began [s].
    """

    goal: str
    value: int
    bound: int
    seconds: float


def solve(problem: Problem, *, seconds: float = 10.0, progress: Callable[[Progress], bool] | None = None) -> Plan:
    """The best plan that is found in time.

    Parameters
    ----------
    problem : Problem
    seconds : float
        How long to look at most; it ends sooner where the plan is proven [s].
    progress : callable, optional
        Told now and then how far it is; where it answers false, the best plan so far is the answer.

    Returns
    -------
    Plan
        With its bounds. Without the solver's package it is a serial one.

    Raises
    ------
    EstimatorError
        When the problem is not sound, or no plan for it is found.
    """
    within("time to solve", seconds, "s", 0.1, LONGEST_S)
    check(problem)
    run = _Run(problem, seconds, progress or (lambda _: True))
    if find_spec("ortools") is None:
        run.search(seconds)
        return run.plan(SERIAL)
    for goal in GOALS:
        run.aim(goal)
    return run.plan(CP_SAT)


class _Run:
    """The best starts so far, what no plan goes below, and the time left."""

    def __init__(self, problem: Problem, seconds: float, progress: Callable[[Progress], bool]) -> None:
        self.began = monotonic()
        self.problem, self.seconds, self.progress = problem, seconds, progress
        self.stopped, self.told, self.searches = False, -inf, 0
        self.bounds = least(problem)
        self.best = first_starts(problem)

    @property
    def left(self) -> float:
        return self.seconds - (monotonic() - self.began)

    def plan(self, method: str) -> Plan:
        return planned(self.problem, self.best, self.bounds, method)

    def value(self, goal: str) -> int:
        return measured(self.problem, self.best)[goal]

    def tell(self, goal: str, value: int, bound: int) -> bool:
        """Say how far it is, unless that was said just now; whether to go on."""
        now = monotonic()
        if not self.stopped and now - self.told >= TOLD_EVERY_S:
            self.told = now
            self.stopped = not self.progress(Progress(goal, value, bound, now - self.began))
        return not self.stopped

    def take(self, starts: Mapping[str, int]) -> bool:
        """Keep starts if they are better; whether they are."""
        if worth(self.problem, starts) >= worth(self.problem, self.best):
            return False
        self.best = dict(starts)
        return True

    def search(self, seconds: float) -> None:
        """Change priorities for some time."""
        until = monotonic() + min(seconds, self.left)

        def go_on(reached: Worth) -> bool:
            goal = next((goal for goal, value in zip(GOALS, reached, strict=False) if value > self.bounds[goal]), None)
            return (
                goal is not None
                and monotonic() < until
                and self.tell(goal, reached[GOALS.index(goal)], self.bounds[goal])
            )

        self.searches += 1
        self.take(improve(self.problem, self.best, SEED * self.searches, go_on))

    def aim(self, goal: str) -> None:
        """Minimise one goal as far as its share of the time allows."""
        budget = self.left * SHARES[goal]
        until = monotonic() + budget
        if not self._open(goal, until):
            return
        found = windows(self.problem, self.best, goal)
        if self._is_small(found):
            self._solve(goal, found, until)
            return
        self.search(min(budget, self.seconds) * SEARCH_SHARE)
        while self._open(goal, until):
            found = windows(self.problem, self.best, goal)
            part = near(found, self.best, REACH)
            ends = min(until, monotonic() + ROUND_S)
            if not (self._is_small(part) and self._solve(goal, part, ends, whole=part == found)):
                self.search(min(until - monotonic(), ROUND_S))

    def _open(self, goal: str, until: float) -> bool:
        return not self.stopped and monotonic() < until and self.value(goal) > self.bounds[goal]

    def _is_small(self, found: Mapping[str, Window]) -> bool:
        """Whether the holds over their windows are few pieces; it stops counting where they are not."""
        before = [(link.activity, link.hold) for each in self.problem.open for link in each.after if link.hold]
        before += [(stay.last, stay.hold) for stay in self.problem.stays if stay.hold]
        known, count = self.problem.by_id, 0
        for name, hold in before:
            if name in found:
                window = found[name]
                count += len(pieces(self.problem.calendar, known[name].duration, hold, window.first, window.last))
            if count > MOST_PIECES:
                return False
        return True

    def _solve(self, goal: str, found: Mapping[str, Window], until: float, *, whole: bool = True) -> bool:
        """Solve one model until a time, and keep what is better; whether anything is."""
        from ortools.sat.python import cp_model

        if not self._open(goal, until):
            return False
        model = Model(self.problem, found, self.best)
        model.aim(goal)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = SEED
        solver.parameters.max_time_in_seconds = max(until - monotonic(), 0.1)
        # Trying every order of two starts in turn takes longer than the search itself.
        solver.parameters.cp_model_probing_level = 0
        bound = self.bounds[goal]

        def hear(said: float) -> None:
            nonlocal bound
            bound = max(bound, ceil(said - 1e-6))

        if whole:
            solver.best_bound_callback = hear
        # The caller is told from its own thread: a connection to a database belongs to one.
        with ThreadPoolExecutor(max_workers=1) as pool:
            solving = pool.submit(solver.solve, model.cp)
            try:
                while not wait([solving], TOLD_EVERY_S).done and self.tell(goal, self.value(goal), bound):
                    pass
            finally:
                solver.stop_search()
        status = solving.result()
        if whole:
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                hear(solver.best_objective_bound)
            self.bounds[goal] = bound
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return False
        starts = {name: solver.value(start) for name, start in model.starts.items()}
        better = self.take(starts)
        return self._take_packed(starts) or better

    def _take_packed(self, starts: Mapping[str, int]) -> bool:
        """Place activities anew in the order of some starts, and keep that if it is better."""
        ordered = sequence(self.problem, starts)
        floors = {name: min(period, starts[name]) for name, period in self.problem.published.items() if name in starts}
        try:
            packed = [place(self.problem, ordered), place(self.problem, ordered, floors)]
        except EstimatorError:
            # In this order the calendar ends too soon, or a place is never left.
            return False
        return self.take(min(packed, key=lambda each: worth(self.problem, each)))
