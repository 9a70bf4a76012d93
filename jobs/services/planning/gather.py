"""What is still to be done of commissions: their stages' open steps, hours, holds, orders and signatures."""

import datetime
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from jobs.figures.cure import Cold, hold_hours
from jobs.figures.doubts import Doubt, Doubts
from jobs.figures.remaining import casts_left, remaining, share_done
from jobs.figures.site import Promise
from jobs.figures.threepoint import ThreePoint
from jobs.figures.todo import CAST, PASSED, CommissionToDo, Outside, StageToDo, StepToDo
from jobs.figures.workdays import Workdays
from jobs.models import Commission, SentOutWork, Stage, StageState, StageTemplate, Step, StepTemplate
from jobs.queries.hours import booked_minutes
from jobs.queries.plans import (
    Estimated,
    answers_due,
    delivered,
    estimates,
    local,
    open_stages,
    stages_sent_out,
    still_out,
    templates,
)
from jobs.queries.stages import cold_figures
from materials.estimator.studio import StudioFigures
from materials.models import Item, ItemKind

MINUTES = 60
HOURS_A_DAY = 24
MILLING, SPRAYING = "cnc_milling", "spraying"
MOULD = "mould"
UNKNOWN = datetime.timedelta(days=14)
"""Reckoned with where nobody has said when work comes back; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What holds for every stage: the calendar, figures, the studio's stages, and services with their days."""

    days: Workdays
    figures: StudioFigures
    cold: Cold
    templates: Mapping[str, StageTemplate]
    services: Mapping[str, Item]
    now: datetime.datetime

    @property
    def spraying_days(self) -> float:
        """How long a paint shop keeps what it paints [day]."""
        return float(self.services[SPRAYING].lead_days) if SPRAYING in self.services else float(UNKNOWN.days)

    @property
    def sign_off_days(self) -> float:
        """How long a signature takes by the clock [day]."""
        return self.figures.value("sign_off_days") * self._week

    @property
    def _week(self) -> float:
        """Days by the clock for each that is worked [dimensionless]."""
        return 7 / (len({day.weekday() for day in self.days.days[:10]}) or 1)

    @property
    def doubts(self) -> Doubts:
        """How sure it is what others take."""
        signed, firm = self.between("sign_off_days", "sign_off"), self.between(None, "sent_out")
        day = HOURS_A_DAY * MINUTES * self._week
        return Doubts(
            Doubt(round((signed.likely - signed.low) * day), round((signed.high - signed.likely) * day)),
            (firm.likely - firm.low, firm.high - firm.likely),
        )

    @property
    def winter(self) -> ThreePoint:
        """How much longer outdoor work takes in winter, share of its time [dimensionless]; nought is no winter."""
        winter = self.between("winter_allowance", "winter")
        return winter if winter.likely else ThreePoint(0.0, 0.0, 0.0)

    def between(self, likely: str | None, ends: str) -> ThreePoint:
        """Figures from the least to the most; None is one. A likely one outside its ends is the end itself."""
        value = self.figures.value(likely) if likely else 1.0
        least, most = (self.figures.value(f"{ends}_{end}") for end in ("least", "most"))
        return ThreePoint(min(least, value), value, max(most, value))

    def hold_h(self, step: Step | StepTemplate) -> float:
        """A step's hold in the workshop as it usually is [h]."""
        return hold_hours(
            float(step.hold_hours),
            slower_when_cold=step.slower_when_cold,
            temperature_c=self.cold.usual_c,
            cold=self.cold,
        )

    def step(self, step: Step | StepTemplate) -> StepToDo:
        """A step as it is planned."""
        return StepToDo(step.position, step.name, self.hold_h(step), step.hold_reason or step.name, step.in_booth)

    def hours_left_of(self, until: datetime.datetime) -> float:
        """From the beginning of the plan until a moment [h]; 0 where it is past."""
        return max(0, self.days.minute_of(local(until))) / MINUTES


def circumstances(days: Workdays, figures: StudioFigures, now: datetime.datetime) -> Circumstances:
    """Read what holds for every stage, in four queries."""
    services = {item.key: item for item in Item.objects.filter(kind=ItemKind.SERVICE)}
    return Circumstances(days, figures, cold_figures(), templates(), services, now)


@dataclass(frozen=True, slots=True)
class _Known:
    """What was read of all commissions at once."""

    booked: Mapping[int, int]
    answers: Mapping[int, datetime.date]
    out: Mapping[int, list[SentOutWork]]
    sent: Collection[int]


def commissions_to_do(commissions: Sequence[Commission], around: Circumstances) -> list[CommissionToDo]:
    """All that is still to be done of commissions in hand, in eight queries whatever their number."""
    found = open_stages(commissions)
    ids = found.order_by().prefetch_related(None)
    known = _Known(booked_minutes(ids), answers_due(commissions), still_out(commissions), stages_sent_out(commissions))
    by_commission: dict[int, list[Stage]] = {}
    for stage in found:
        by_commission.setdefault(stage.commission_id, []).append(stage)
    driven, estimated = delivered(commissions), estimates(commissions, around.services)
    nothing = Estimated({}, {}, {}, {})
    return [
        CommissionToDo(
            id=str(commission.pk),
            name=commission.title,
            stages=tuple(
                _stage(stage, commission, estimated.get(commission.pk, nothing), known, around)
                for stage in by_commission.get(commission.pk, ())
            ),
            is_delivered=commission.pk in driven,
        ).promising(promise_of(commission), around.days)
        for commission in commissions
    ]


def promise_of(commission: Commission) -> Promise:
    """The days that were agreed for a commission."""
    return Promise(commission.due_by, commission.site_from, commission.site_until, commission.shut_days)


def mould_again(commission: str, section: str, around: Circumstances) -> StageToDo | None:
    """What one more mould of a section takes, once the last is off the pattern; None where the board has none."""
    stages = Stage.objects.filter(commission=int(commission), section__name=section, key=MOULD)
    stage = stages.select_related("commission").prefetch_related("steps").first()
    if stage is None:
        return None
    known = estimates([stage.commission], around.services).get(stage.commission_id, Estimated({}, {}, {}, {}))
    # The stage's hours are those of all its moulds.
    allowed_h = stage.allowed_hours / known.moulds.get(section, 1)
    low, high = spread_of(known, section, MOULD)
    template = around.templates.get(MOULD)
    return StageToDo(
        id=f"s{stage.pk}again",
        key=MOULD,
        name="One more mould",
        section=section,
        position=stage.position,
        waits=PASSED,
        hours=ThreePoint(allowed_h * low, allowed_h, allowed_h * high),
        steps=tuple(around.step(step) for step in stage.steps.all()),
        crew=template.crew if template else 1,
        room=template.room if template else "",
        beside=True,
    )


def _stage(
    stage: Stage, commission: Commission, known_hours: Estimated, known: _Known, around: Circumstances
) -> StageToDo:
    section = stage.section.name if stage.section else ""
    template = around.templates.get(stage.key)
    steps = list(stage.steps.all())
    undone = [step for step in steps if step.done_at is None]
    booked_h = known.booked.get(stage.pk, 0) / MINUTES
    casts = known_hours.casts.get(section, stage.section.pulls if stage.section else 1) if stage.key == CAST else 1
    left = casts_left(casts, stage.allowed_hours, booked_h) if undone else 1
    room = template.room if template else ""
    spread = spread_of(known_hours, section, stage.key)
    hours, to_do = _open_work(stage, steps, undone, booked_h, casts, spread)
    to_do_steps = tuple(around.step(step) for step in to_do)
    wanted = known_hours.services.get((section, stage.key), ())
    return StageToDo(
        id=f"s{stage.pk}",
        key=stage.key,
        name=stage.name,
        section=section,
        position=stage.position,
        waits=stage.waits,
        hours=hours,
        steps=to_do_steps if stage.pk in known.sent else sent_between(to_do_steps, wanted, around),
        cast_steps=tuple(around.step(step) for step in steps),
        begun=stage.state != StageState.NOT_BEGUN,
        crew=template.crew if template else 1,
        room=room,
        sign_off=stage.sign_off if stage.lacks_sign_off else "",
        sign_off_days=_signed_in(stage, known, around),
        asked=stage.pk in known.answers,
        held_h=_held(stage, known, around),
        held_why=_held_why(stage, known),
        is_out=stage.pk in known.out,
        casts=left,
        taken=casts - left,
        moulds=known_hours.moulds.get(section, 1),
        mould_pieces=stage.section.pieces if stage.section else 1,
    )


def _open_work(
    stage: Stage,
    steps: Sequence[Step],
    undone: Sequence[Step],
    booked_h: float,
    casts: int,
    spread: tuple[float, float],
) -> tuple[ThreePoint, Sequence[Step]]:
    """The hours and steps of a stage that are still to come."""
    allowed_h = stage.allowed_hours
    allowed = ThreePoint(allowed_h * spread[0], allowed_h, allowed_h * spread[1])
    if stage.state == StageState.REOPENED and steps and not undone:
        # It went back to work, and nobody has said to which step: reckon with one of them, the last.
        return allowed.share(1 / len(steps)), [steps[-1]]
    if not steps:
        return allowed, []
    share = share_done(allowed_h, booked_h, len(steps), len(steps) - len(undone), casts)
    return remaining(allowed, booked_h, share), undone


def spread_of(known: Estimated, section: str, key: str) -> tuple[float, float]:
    """How far low and high lie from likely by the norms: of the stage, or else of the whole job."""
    low, likely, high = known.hours.get((section, key), (0.0, 0.0, 0.0))
    if not likely:
        low, likely, high = (sum(each[place] for each in known.hours.values()) for place in range(3))
    return (low / likely, high / likely) if likely else (1.0, 1.0)


def _signed_in(stage: Stage, known: _Known, around: Circumstances) -> float:
    """How long a signature takes: as usual, or what is left until the answer is due; a day at least [day]."""
    due = known.answers.get(stage.pk)
    if due is None:
        return around.sign_off_days
    return max(1.0, float((due - around.days.days[0]).days + 1))


def _held(stage: Stage, known: _Known, around: Circumstances) -> float:
    """How long a stage is still held, by its own hold or by what is out of the house [h]."""
    own = around.hours_left_of(stage.hold_until) if stage.hold_until else 0.0
    back = [_back(work, around) for work in known.out.get(stage.pk, ())]
    return max([own, *back])


def _held_why(stage: Stage, known: _Known) -> str:
    out = known.out.get(stage.pk)
    return f"{out[0].what}, {out[0].firm}" if out else stage.hold_reason


def _back(work: SentOutWork, around: Circumstances) -> float:
    """Until work that was sent out can be gone on with: the morning after it is due [h]."""
    today = around.days.days[0]
    after = max(work.due_back or today + UNKNOWN, today) + datetime.timedelta(days=1)
    return (after - today).days * HOURS_A_DAY


def sent_between(steps: tuple[StepToDo, ...], wanted: Collection[str], around: Circumstances) -> tuple[StepToDo, ...]:
    """The steps, with what firms outside do after the first of them; milling comes before everything."""
    if not wanted or not steps:
        return steps
    items = [around.services[key] for key in wanted]
    out = Outside(", ".join(item.name.lower() for item in items), max(item.lead_days for item in items))
    place = 0 if MILLING in wanted or len(steps) == 1 else 1
    return (*steps[:place], replace(steps[place], sent=out), *steps[place + 1 :])
