"""The problem as the solver takes it: starts in periods, intervals on resources, holds in pieces."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from jobs.figures.plan.goals import GOALS, measured
from jobs.figures.plan.holds import Piece, pieces
from jobs.figures.plan.problem import Activity, Problem, Stay
from jobs.figures.plan.result import FINISH, LATENESS, MOVES
from jobs.figures.plan.windows import Window

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class Model:
    """One CP-SAT model, with a plan as its hint.

    Parameters
    ----------
    problem : Problem
        Checked.
    windows : mapping of str to Window
        Between which periods each activity that is not done may begin.
    hint : mapping of str to int
        Starts of a plan within the windows.
    """

    def __init__(self, problem: Problem, windows: Mapping[str, Window], hint: Mapping[str, int]) -> None:
        from ortools.sat.python import cp_model

        self.problem, self.windows, self.hint = problem, windows, hint
        self.cp = cp_model.CpModel()
        self._begun: dict[tuple[int, int], cp_model.IntVar] = {}
        self._uses: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {each.id: [] for each in problem.resources}
        self.starts = {activity.id: self._start(activity) for activity in problem.open}
        for activity in problem.open:
            self._add_waits(activity)
        for stay in problem.stays:
            self._add_stay(stay)
        for resource in problem.resources:
            for away in resource.away:
                self._use(resource.id, away.start, away.end - away.start, away.end, away.units)
            self._add_capacity(resource.id, resource.capacity)
        self.goals = {LATENESS: self._lateness(), MOVES: self._moves(), FINISH: self._end_of(problem.open)}

    def aim(self, goal: str) -> None:
        """Minimise a goal, and be no worse than the hint in it and those before it.

        Parameters
        ----------
        goal : str
        """
        values = measured(self.problem, self.hint)
        for key in GOALS[: GOALS.index(goal) + 1]:
            self.cp.add(self.goals[key] <= values[key])
        self.cp.minimize(self.goals[goal])

    def _number(self, low: int, high: int, hint: int) -> "cp_model.IntVar":
        number = self.cp.new_int_var(low, high, "")
        self.cp.add_hint(number, hint)
        return number

    def _start(self, activity: Activity) -> "cp_model.IntVar":
        window = self.windows[activity.id]
        start = self._number(window.first, window.last, self.hint[activity.id])
        for resource, units in activity.needs.items() if activity.duration else ():
            self._use(resource, start, activity.duration, start + activity.duration, units)
        return start

    def _use(
        self,
        resource: str,
        start: "cp_model.LinearExprT",
        size: "cp_model.LinearExprT",
        end: "cp_model.LinearExprT",
        units: int,
    ) -> None:
        self._uses[resource].append((self.cp.new_interval_var(start, size, end, ""), units))

    def _add_capacity(self, resource: str, capacity: int) -> None:
        intervals = [interval for interval, _ in self._uses[resource]]
        units = [units for _, units in self._uses[resource]]
        if capacity == 1 and set(units) == {1}:
            self.cp.add_no_overlap(intervals)
        elif intervals:
            self.cp.add_cumulative(intervals, units, capacity)

    def _add_waits(self, activity: Activity) -> None:
        start, last = self.starts[activity.id], self.windows[activity.id].last
        for link in activity.after:
            before = self.problem.by_id[link.activity]
            if before.ended is not None:
                self.cp.add(start >= self.problem.calendar.first_from(before.ended + link.hold))
            elif link.hold:
                self._add_hold(before, link.hold, start, last, self.hint[activity.id])
            else:
                self.cp.add(start >= self.starts[before.id] + before.duration)

    def _add_hold(self, before: Activity, hold: int, until: "cp_model.IntVar", last: int, hint: int) -> None:
        """Let a number be no less than the first period after a hold."""
        start, window = self.starts[before.id], self.windows[before.id]
        found = pieces(self.problem.calendar, before.duration, hold, window.first, window.last)
        shortest = min(piece.lag if piece.rising else piece.ready - piece.last for piece in found)
        self.cp.add(until >= start + shortest)
        for piece in found:
            if piece.rising and piece.first < piece.last:
                if piece.lag > shortest:
                    self._add_rising(piece, before, until)
            else:
                begun = self._at_least(start, piece.first, window.first, window.last, self.hint[before.id])
                self.cp.add_implication(begun, self._at_least(until, piece.ready, 0, last, hint))

    def _add_rising(self, piece: Piece, before: Activity, until: "cp_model.IntVar") -> None:
        start, window, hint = self.starts[before.id], self.windows[before.id], self.hint[before.id]
        begun = self._at_least(start, piece.first, window.first, window.last, hint)
        past = self._at_least(start, piece.last + 1, window.first, window.last, hint)
        self.cp.add(until >= start + piece.lag).only_enforce_if(begun, ~past)

    def _at_least(self, number: "cp_model.IntVar", period: int, low: int, high: int, hint: int) -> "cp_model.IntVar":
        """Whether a number reaches a period."""
        if period <= low or period > high:
            return self._always(period <= low)
        key = (number.index, period)
        if key not in self._begun:
            reached = self.cp.new_bool_var("")
            self.cp.add_hint(reached, hint >= period)
            self.cp.add(number >= period).only_enforce_if(reached)
            self.cp.add(number < period).only_enforce_if(~reached)
            self._begun[key] = reached
        return self._begun[key]

    def _always(self, value: bool) -> "cp_model.IntVar":
        return self.cp.new_constant(int(value))

    def _add_stay(self, stay: Stay) -> None:
        first, last = self.problem.by_id[stay.first], self.problem.by_id[stay.last]
        if last.ended is not None:
            until = self.problem.calendar.first_from(last.ended + stay.hold)
            self._use(stay.resource, 0, until, until, stay.units)
            return
        start = 0 if first.done else self.starts[first.id]
        begins = 0 if first.done else self.hint[first.id]
        low, high, hint = (
            self.problem.calendar.ready(period, period + last.duration, stay.hold)
            for period in (self.windows[last.id].first, self.windows[last.id].last, self.hint[last.id])
        )
        end: cp_model.LinearExprT = self.starts[last.id] + last.duration
        if stay.hold:
            end = self._number(low, high, hint)
            self._add_hold(last, stay.hold, end, high, hint)
        self._use(stay.resource, start, self._number(0, high, hint - begins), end, stay.units)

    def _end_of(self, activities: "tuple[Activity, ...]") -> "cp_model.IntVar":
        """The end of the last of some activities."""
        ends = [(self.windows[each.id].last, self.hint[each.id], each) for each in activities]
        high = max((last + each.duration for last, _, each in ends), default=0)
        hint = max((begins + each.duration for _, begins, each in ends), default=0)
        end = self._number(0, high, hint)
        for _, _, each in ends:
            self.cp.add(end >= self.starts[each.id] + each.duration)
        return end

    def _lateness(self) -> "cp_model.LinearExprT":
        late: list[cp_model.LinearExprT] = []
        for commission in self.problem.commissions:
            own = tuple(each for each in self.problem.open if each.commission == commission.id)
            if commission.due is not None and own:
                end = max(self.hint[each.id] + each.duration for each in own)
                behind = self._number(0, self.problem.calendar.horizon, max(0, end - commission.due))
                for each in own:
                    self.cp.add(behind >= self.starts[each.id] + each.duration - commission.due)
                late.append(commission.weight * behind)
        return sum(late)

    def _moves(self) -> "cp_model.LinearExprT":
        moves: list[cp_model.LinearExprT] = []
        for name, period in self.problem.published.items():
            if name in self.starts:
                moved = self._number(0, self.problem.calendar.horizon, abs(self.hint[name] - period))
                self.cp.add(moved >= self.starts[name] - period)
                self.cp.add(moved >= period - self.starts[name])
                moves.append(moved)
        return sum(moves)
