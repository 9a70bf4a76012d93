"""The rows of a standing: a stage, and the stages of a section together."""

import datetime
from dataclasses import dataclass

from jobs.figures.standing import Cost
from jobs.models import StageState


@dataclass(frozen=True, slots=True)
class StageRow:
    """One stage, or what no stage takes; ``code`` opens the stage's own sheet, where it has one."""

    code: str
    section: str
    stage: str
    position: int
    state: str
    budget: Cost
    spent: Cost
    earned_minor: int
    allowed_minutes: int
    booked_minutes: int
    hours_past_since: datetime.date | None
    budget_past_since: datetime.date | None

    @property
    def name(self) -> str:
        """The stage with its section."""
        return f"{self.section}, {self.stage[:1].lower()}{self.stage[1:]}"

    @property
    def forecast_minor(self) -> int:
        """At completion if the rest goes as planned, minor units."""
        return self.spent.total_minor + self.budget.total_minor - self.earned_minor

    @property
    def left_minor(self) -> int:
        """What is left of the budget then; below nought where it is passed."""
        return self.budget.total_minor - self.forecast_minor

    @property
    def over_minor(self) -> int:
        """By how much the budget is, or will be, passed; 0 where it is not."""
        return max(0, -self.left_minor)

    @property
    def is_done(self) -> bool:
        """Whether nothing more is to come."""
        return self.state == StageState.PASSED.label

    @property
    def is_past(self) -> bool:
        """Whether more has been spent already than the whole budget."""
        return self.spent.total_minor > self.budget.total_minor

    @property
    def booked_hours(self) -> float:
        """Booked [h]."""
        return self.booked_minutes / 60

    @property
    def allowed_hours(self) -> float:
        """Allowed [h]."""
        return self.allowed_minutes / 60

    @property
    def over_by(self) -> list[tuple[str, int]]:
        """Of what has been spent, the sorts that are past their budget, with by how much."""
        pairs = (
            ("hours", self.spent.work_minor - self.budget.work_minor),
            ("materials", self.spent.material_minor - self.budget.material_minor),
            ("sent-out work", self.spent.sent_out_minor - self.budget.sent_out_minor),
        )
        return [(name, amount) for name, amount in pairs if amount > 0]


@dataclass(frozen=True, slots=True)
class Group:
    """The rows of one section, or of the whole commission, with their sums."""

    name: str
    rows: tuple[StageRow, ...]

    @property
    def budget_minor(self) -> int:
        """What they may cost."""
        return sum(row.budget.total_minor for row in self.rows)

    @property
    def spent_minor(self) -> int:
        """What they have cost."""
        return sum(row.spent.total_minor for row in self.rows)

    @property
    def earned_minor(self) -> int:
        """The budget of what is done of them."""
        return sum(row.earned_minor for row in self.rows)

    @property
    def forecast_minor(self) -> int:
        """At completion if the rest goes as planned."""
        return sum(row.forecast_minor for row in self.rows)

    @property
    def left_minor(self) -> int:
        """What is left of the budget then; below nought where it is passed."""
        return self.budget_minor - self.forecast_minor

    @property
    def over_minor(self) -> int:
        """By how much the budget is passed then; 0 where it is not."""
        return max(0, -self.left_minor)

    @property
    def booked_hours(self) -> float:
        """Booked [h]."""
        return sum(row.booked_minutes for row in self.rows) / 60

    @property
    def allowed_hours(self) -> float:
        """Allowed [h]."""
        return sum(row.allowed_minutes for row in self.rows) / 60
