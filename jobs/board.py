"""Stages arranged for reading: the wall chart of a commission, and what the workshop is to know of it today."""

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from django.utils import timezone

from jobs.figures.moments import day_words, moment_words
from jobs.models import Commission, Section, SentOutWork, Stage, StageState, Waits
from jobs.queries.hours import booked_minutes
from jobs.queries.plans import expected_days
from jobs.queries.stages import Maker, makers, out_of_the_house, reasons_reopened, stages_of
from jobs.services.hours import QUARTER
from materials.drawing import HATCHED_STAGES

HOLD = "hold"
WHOLE = "Whole commission"


@dataclass(frozen=True, slots=True)
class Cell:
    """One stage of one section as the chart shows it."""

    code: str
    section: str
    stage: str
    key: str
    state: str
    words: str
    note: str
    booked: int
    allowed: int
    sign_off: str
    on_it: tuple[str, ...]

    @property
    def name(self) -> str:
        """The stage with its section."""
        return f"{self.section}, {self.stage.lower()}"

    @property
    def hatch(self) -> str:
        """Its stage's hatch; blank for a stage that has none."""
        return self.key if self.key in HATCHED_STAGES else ""

    @property
    def booked_hours(self) -> float:
        """Booked [h]."""
        return self.booked / 60

    @property
    def allowed_hours(self) -> float:
        """Allowed [h]."""
        return self.allowed / 60

    @property
    def over_hours(self) -> float:
        """Booked beyond what is allowed [h]; 0 where nothing is, or less than the quarter hour that people book by."""
        over = self.booked - self.allowed
        return over / 60 if self.allowed and over >= QUARTER else 0.0

    @property
    def bar(self) -> str:
        """How much of the bar is filled, as SVG reads it."""
        most = max(self.allowed, self.booked)
        return f"{100 * self.booked / most:.0f}%" if most else "0%"

    @property
    def bar_end(self) -> str:
        """Where on the bar the allowed hours end, as SVG reads it."""
        most = max(self.allowed, self.booked)
        return f"{100 * self.allowed / most:.0f}%" if most else "100%"

    @property
    def waits_for_sign_off(self) -> bool:
        """Whether it is ready and its hold point is open."""
        return self.state == StageState.READY and bool(self.sign_off)


@dataclass(frozen=True, slots=True)
class Row:
    """A section, or the whole commission, with a cell for each column; None where it has no such stage."""

    name: str
    about: str
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True, slots=True)
class Out:
    """Work that a firm outside has, without its price."""

    what: str
    firm: str
    words: str
    is_late: bool


@dataclass(frozen=True, slots=True)
class Chart:
    """The board of one commission. It holds plain values alone, so that two charts can be compared."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    out: tuple[Out, ...] = ()
    planned: datetime.date | None = None
    days_late: int = 0
    reached: Mapping[int, str] = field(default_factory=dict)

    def cells(self) -> list[Cell]:
        """Every cell there is, row by row."""
        return [cell for row in self.rows for cell in row.cells if cell is not None]

    @property
    def holds(self) -> list[Cell]:
        """What is on hold."""
        return [cell for cell in self.cells() if cell.state == HOLD]

    @property
    def signatures(self) -> list[Cell]:
        """What waits for a sign-off."""
        return [cell for cell in self.cells() if cell.waits_for_sign_off]

    @property
    def to_check(self) -> list[Cell]:
        """What is ready, and waits for nobody outside."""
        return [cell for cell in self.cells() if cell.state == StageState.READY and not cell.sign_off]

    @property
    def over(self) -> list[Cell]:
        """What took more hours than are allowed."""
        return [cell for cell in self.cells() if cell.over_hours]

    @property
    def running_over(self) -> list[Cell]:
        """What took more hours than are allowed and takes more yet."""
        return [cell for cell in self.over if cell.state != StageState.PASSED]

    @property
    def reopened(self) -> list[Cell]:
        """What was sent back to work."""
        return [cell for cell in self.cells() if cell.state == StageState.REOPENED]

    @property
    def at_work(self) -> list[Cell]:
        """What somebody is on today."""
        return [cell for cell in self.cells() if cell.on_it]


def charts(commissions: Sequence[Commission], now: datetime.datetime) -> dict[int, Chart]:
    """The charts of these commissions by their keys, in seven queries however many they are."""
    found = stages_of(commissions)
    today, planned = timezone.localdate(now), expected_days()
    booked, on_it = booked_minutes(found.order_by()), makers(found.order_by(), today)
    reasons = reasons_reopened(found.order_by())
    stages: dict[int, list[Stage]] = {}
    for stage in found:
        stages.setdefault(stage.commission_id, []).append(stage)
    out: dict[int, list[Out]] = {}
    for work in out_of_the_house(commissions):
        out.setdefault(work.commission_id, []).append(_out(work, today))

    def cell(stage: Stage) -> Cell:
        return _cell(stage, booked.get(stage.pk, 0), on_it.get(stage.pk, ()), reasons.get(stage.pk, ""), now)

    return {
        commission.pk: _chart(
            {stage: cell(stage) for stage in stages.get(commission.pk, ())},
            out=tuple(out.get(commission.pk, ())),
            planned=planned.get(commission.pk),
            days_late=days_late(commission, today, planned.get(commission.pk)),
        )
        for commission in commissions
    }


def days_late(commission: Commission, today: datetime.date, planned: datetime.date | None) -> int:
    """Days from a commission's last day to its day by the plan, or to today if that is later; 0 where in time."""
    if commission.last_day is None or commission.state not in ("accepted", "quoted", "enquiry"):
        return 0
    return max(0, (max(today, planned or today) - commission.last_day).days)


def reached(stages: Iterable[Stage]) -> str | None:
    """The hatch of the last stage of a section that has begun.

    What may begin at any time, such as a crate, counts once all before it has passed.
    """
    last, all_passed = None, True
    for number, stage in enumerate(stages):
        beside = number > 0 and stage.waits == Waits.NO
        if stage.state == StageState.NOT_BEGUN and not beside:
            break
        if stage.key in HATCHED_STAGES and stage.state != StageState.NOT_BEGUN and (all_passed or not beside):
            last = stage.key
        all_passed = all_passed and stage.state == StageState.PASSED
    return last


def _chart(
    cells: Mapping[Stage, Cell], *, out: tuple[Out, ...], planned: datetime.date | None, days_late: int
) -> Chart:
    columns = {stage.key: stage for stage in sorted(cells, key=lambda stage: (stage.position, stage.pk), reverse=True)}
    ordered = sorted(columns.values(), key=lambda stage: (stage.position, stage.pk))
    places: dict[int | None, list[Stage]] = {}
    for stage in cells:
        places.setdefault(stage.section_id, []).append(stage)
    whole = places.pop(None, [])
    rows = [_row(stages[0].section, stages, cells, ordered) for stages in places.values()]
    if whole:
        rows.append(_row(None, whole, cells, ordered))
    hatches = {key: hatch for key, stages in places.items() if key is not None and (hatch := reached(stages))}
    return Chart(tuple(stage.name for stage in ordered), tuple(rows), out, planned, days_late, hatches)


def _row(section: Section | None, stages: list[Stage], cells: Mapping[Stage, Cell], columns: list[Stage]) -> Row:
    own = {stage.key: cells[stage] for stage in stages}
    about = ""
    if section is not None:
        pieces = "1 piece" if section.pieces == 1 else f"{section.pieces} pieces"
        about = f"{pieces}, {section.pulls} casts" if section.pulls > 1 else pieces
    return Row(section.name if section else WHOLE, about, tuple(own.get(column.key) for column in columns))


def _cell(stage: Stage, booked: int, on_it: Iterable[Maker], reason: str, now: datetime.datetime) -> Cell:
    state, words, note = state_of(stage, reason, now)
    return Cell(
        code=stage.code,
        section=stage.section.name if stage.section else WHOLE,
        stage=stage.name,
        key=stage.key,
        state=state,
        words=words,
        note=note,
        booked=booked,
        allowed=stage.allowed_minutes,
        sign_off=stage.get_sign_off_display() if stage.lacks_sign_off else "",
        on_it=tuple(_maker(maker) for maker in on_it),
    )


def state_of(stage: Stage, reason: str, now: datetime.datetime) -> tuple[str, str, str]:
    """A stage's state as its key, in words, and what is to be added; ``reason`` is why it was reopened."""
    if stage.hold_until is not None and stage.is_held(now):
        return HOLD, f"on hold until {moment_words(timezone.localtime(stage.hold_until))}", stage.hold_reason
    if stage.state == StageState.PASSED and stage.passed_at is not None:
        return stage.state, f"passed {day_words(timezone.localdate(stage.passed_at))}", ""
    if stage.state == StageState.READY:
        wanted = f"sign-off awaited: {stage.get_sign_off_display().lower()}" if stage.lacks_sign_off else ""
        return stage.state, "ready to check", wanted
    return stage.state, StageState(stage.state).label.lower(), reason


def _maker(maker: Maker) -> str:
    name = maker.name.split()[0]
    return f"{name} since {timezone.localtime(maker.since):%H:%M}" if maker.since else name


def _out(work: SentOutWork, today: datetime.date) -> Out:
    due = f"due back {day_words(work.due_back)}" if work.due_back else "no day agreed for it to come back"
    words = due if work.out_on else f"ordered {day_words(work.ordered_on)}, not gone out yet, {due}"
    return Out(work.what, work.firm, words, work.due_back is not None and work.due_back < today)
