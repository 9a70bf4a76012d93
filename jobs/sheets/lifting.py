"""The lifting sheet: where the load balances, what slings and points have to hold, and whether it turns over."""

import datetime
import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.delivery.balance import Balance, balanced
from jobs.delivery.lifting import HITCHES, Lift, Rig, planned
from jobs.loads import Load
from jobs.models import Sling
from jobs.sheets.carried import CarriedForm, balance_of, load_of
from jobs.sheets.handling import KIND as HANDLING
from jobs.sheets.kind import About, Answer, Picture, SheetKind, show_subject
from jobs.sheets.known import Job, Subject
from materials.drawing.hanging import Hung, hanging_svg
from materials.estimator.lines import Term
from materials.units import format_number, format_quantity
from studio.forms import NumberField, choose
from studio.quantities import QuantityField

HITCH_WORDS = dict(
    zip(
        HITCHES,
        (
            "straight to shackles",
            "choked round the load",
            "endless rope, choked",
            "basket: one sling under the load, legs 1",
        ),
        strict=True,
    )
)


class LiftingForm(CarriedForm):
    """How it hangs."""

    legs = NumberField(label="Sling legs", wanted="the legs to the hook, 1 to 4", low="1", high="4", decimals=0)
    sharing = forms.ChoiceField(
        label="Load",
        choices=[("stiff", "stiff: two of four legs may carry it"), ("shared", "shared evenly, with an equaliser")],
        error_messages=choose("Choose how four legs share the load."),
    )
    hitch = forms.ChoiceField(
        label="Hitch",
        choices=list(HITCH_WORDS.items()),
        error_messages=choose("Choose the hitch."),
    )
    points = QuantityField(
        kind="length",
        system="metric",
        label="Points above the foot",
        error_messages={"required": "Enter the height of the points, such as 1.2 m."},
    )
    out = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Points from the middle",
        error_messages={"required": "Enter how far out the points are, such as 0.3 m."},
    )
    hook = QuantityField(
        kind="length",
        system="metric",
        label="Hook above the points",
        error_messages={"required": "Enter the height of the hook above the points, such as 0.8 m."},
    )

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """Two legs to points at the top, the hook as high as the usual angle wants it."""
        if not subject.job.sections:
            return {}
        begun = super().begins_with(subject)
        load = load_of(subject, self.begun_piece)
        points_m = round(load.height_m, 2)
        off_m = balanced(load.parts).off.value
        # A little below the top, where a rim or a stalk has its width; but never nearer than it balances.
        out_m = max(0.05, round(0.8 * load.half_width_at(0.98 * load.height_m), 2), math.ceil(120 * off_m) / 100)
        slant = math.tan(math.radians(min(45.0, subject.job.value("sling_angle"))))
        return {
            **begun,
            "legs": 2,
            "sharing": "stiff",
            "hitch": HITCHES[0],
            "points": points_m,
            "out": out_m,
            "hook": max(0.3, math.ceil((out_m + off_m) / slant * 20 - 1e-6) / 20),
        }


@dataclass(frozen=True, slots=True)
class Suits:
    """Of the studio's slings that hold it and are long enough, those to take, and the others, each with why not."""

    good: tuple[Sling, ...]
    others: tuple[tuple[Sling, str], ...]


@dataclass(frozen=True, slots=True)
class Value:
    """The load, what it asks for, the slings that suit, and the drawing."""

    load: Load
    balance: Balance
    lift: Lift
    legs: int
    suits: Suits
    owned: int
    plan: Picture


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The sheet of one lift."""
    job = subject.job
    load = load_of(subject, asked.get("piece", ""))
    balance = balance_of(load, asked)
    entered = "entered for this lift"
    rig = Rig(
        legs=int(asked["legs"]),
        is_stiff=asked["sharing"] == "stiff",
        hitch=asked["hitch"],
        out=Term("points from the middle", asked["out"], "m", entered),
        hook=Term("hook above the points", asked["hook"], "m", entered),
        points=Term("points above the foot", asked["points"], "m", entered),
        dynamic=job.term("lift_dynamic_factor"),
        design=job.term("insert_design_factor"),
    )
    lift, doubt_m = planned(balance, rig), _doubt_m(load, asked)
    suits, owned = _suiting(rig, lift)
    value = Value(load, balance, lift, rig.legs, suits, owned, _plan(load, balance, rig, lift, job))
    return Answer(
        value,
        big=(balance.mass, lift.capacity, lift.above),
        workings=(
            *(balance.height, balance.aside, balance.behind, balance.off),
            *((load.patch.give,) if load.patch else ()),
            *(lift.hung, lift.angle, lift.tension, lift.force, lift.leg, lift.point),
        ),
        cautions=tuple(_cautions(load, doubt_m, rig, lift, job)),
        headline=_headline(rig, lift, doubt_m, job),
        stop=lift.turns_over or lift.above.value < doubt_m,
    )


def _doubt_m(load: Load, asked: Mapping[str, Any]) -> float:
    """How far the balance point may be off: of a piece that neither its model nor two scales have shown [m]."""
    is_estimate = load.patch and not load.patch.is_measured and asked.get("scales_apart") is None
    return load.patch.give.value if load.patch and is_estimate else 0.0


def _headline(rig: Rig, lift: Lift, doubt_m: float, job: Job) -> str:
    if lift.turns_over:
        below = format_quantity(-lift.above.value, "length", job.units)
        return f"It will turn over: the points are {below} below the balance point. Set them above it."
    if lift.above.value < doubt_m:
        above, doubt = (format_quantity(each, "length", job.units) for each in (lift.above.value, doubt_m))
        return (
            f"It may turn over: the points are {above} above a balance point that may be {doubt} off. Set them higher "
            "than that, or weigh the piece on two scales."
        )
    hold = format_quantity(lift.capacity.value, "mass", job.units)
    each = "the sling holds" if rig.legs == 1 else "each leg holds"
    return f"It hangs upright where {each} {hold} or more, as marked for one straight leg."


def _suiting(rig: Rig, lift: Lift) -> tuple[Suits, int]:
    """The studio's slings that hold it and are long enough; and how many it owns."""
    today, rows = timezone.localdate(), list(Sling.objects.all())
    fit = [
        row
        for row in rows
        if row.legs in (1, rig.legs) and row.capacity_kg >= lift.capacity.value and row.length_m >= lift.leg.value
    ]
    seen = [row for row in fit if row.examined_until and row.examined_until >= today]
    # Legs that are not alike do not share a load as is said here.
    alike = Counter(_make(row) for row in seen if row.legs == 1)
    good = [row for row in seen if row.legs == rig.legs or alike[_make(row)] >= rig.legs]
    others = [(row, _why_not(row, today)) for row in fit if row not in good]
    return Suits(tuple(good), tuple(others)), len(rows)


def _make(row: Sling) -> tuple[str, float, float]:
    return row.kind, row.length_m, row.capacity_kg


def _why_not(row: Sling, today: datetime.date) -> str:
    until = row.examined_until
    if until is None:
        return "its examination is not known"
    return f"its examination was due {until.day} {until:%b %Y}" if until < today else "there is no other like it"


def _plan(load: Load, balance: Balance, rig: Rig, lift: Lift, job: Job) -> Picture:
    degrees = f"{format_number(lift.angle.value)}° from the upright"
    height = format_quantity(balance.height.value, "length", job.units)
    hook_m = rig.points.value + rig.hook.value
    sides = (0.0,) if rig.sides == 1 else (-1.0, 1.0)
    points = tuple((side * rig.out.value, rig.points.value) for side in sides)
    title = f"Front of {load.name}: it balances {height} above its foot; {rig.legs} legs, {degrees}"
    hung = Hung(points, (balance.aside.value, hook_m), degrees)
    at = (balance.aside.value, balance.height.value)
    svg = hanging_svg(load.rings, at, balance_words=height, title=title, hung=hung)
    return Picture(SafeString(svg), title)


def _cautions(load: Load, doubt_m: float, rig: Rig, lift: Lift, job: Job) -> list[str]:
    found = []
    if doubt_m:
        give = format_quantity(doubt_m, "length", job.units)
        found.append(
            f"Where a piece balances is an estimate, {give} either way: its seams run where you put them, and one leg "
            "may carry more than is said. Lift it a hand's breadth first, or weigh it on two scales and enter them."
        )
    usual = job.value("sling_angle")
    if lift.angle.value > usual:
        found.append(
            f"The legs stand {lift.angle.value:.0f}° from the upright; the studio keeps to {usual:g}°. Raise the hook."
        )
    if rig.legs == 4 and not rig.is_stiff:
        found.append("Four legs share a load only over an equaliser, or where it gives way; else count two.")
    if rig.sides == 1 and not lift.turns_over:
        found.append("One leg lets the load spin: hold it with a tag line.")
    if rig.hitch in ("choked", "endless"):
        found.append("A choked sling slides up a taper and marks the skin: pad it, and stop it from sliding.")
    if rig.hitch == "basket":
        found.append("A load can tip out of a basket: it slides unless the sling is held from moving along it.")
    return found


def _stands_as_one(subject: Subject) -> bool:
    """Whether the casts are those of the drawing, so that they can be joined and lifted in one."""
    job = subject.job
    return bool(job.sections) and all(
        found.casts == spec.count * (2 if spec.mirrored else 1) == (2 if spec.mirrored else 1)
        for spec, found in zip(job.spec.sections, job.take_off.sections, strict=True)
    )


CAUTIONS = (
    "A competent person plans the lift; nobody stands under it, or between it and a wall.",
    "A point bonded into the laminate is proof tested before it is used, or calculated by an engineer.",
    "Masses are estimates: weigh the load, or trust the crane's own scale on a first lift of a hand's breadth.",
    "Look at every sling and shackle before the lift; one without a label, or past its examination, stays down.",
    "Wind moves a light, large shell: ask the crane's operator for the limit, and hold tag lines.",
)
JUDGEMENT = (
    "A competent person plans the lift (in the United Kingdom LOLER 1998, regulation 8); this sheet is what that "
    "person begins with, and no lifting plan."
)

KIND = SheetKind(
    key="lifting",
    title="Lifting sheet",
    says="Balance point of one cast, slings and points, and whether it hangs or turns over.",
    about=About.SECTION,
    stages=("cast", "metalwork", "finish", "crate"),
    build=build,
    has_more=True,
    keeps="lifting",
    form=LiftingForm,
    cautions=CAUTIONS,
    judgement=JUDGEMENT,
)


def _wants_a_hoist(subject: Subject) -> bool:
    """Whether the handling sheet, as it begins, says that no hands lift the heaviest piece of the mould."""
    answer = show_subject(HANDLING, subject).answer
    return answer is None or answer.stop


MOULD = SheetKind(
    key="lifting-mould",
    title="Lifting sheet, mould piece",
    says="Balance point of a piece of the mould, slings and points, and whether it hangs or turns over.",
    about=About.STAGE,
    stages=("mould",),
    build=build,
    has_more=True,
    fragment="lifting",
    keeps="lifting-mould",
    form=LiftingForm,
    cautions=("Sling it by its frame or by lugs through its returns, never by the edge of the laminate.", *CAUTIONS),
    judgement=JUDGEMENT,
    offered=_wants_a_hoist,
)

WHOLE = SheetKind(
    key="lifting-whole",
    title="Lifting sheet, the whole",
    says="The sculpture in one, shell, metalwork and base: balance point, slings and points.",
    about=About.COMMISSION,
    stages=("assembly", "install"),
    build=build,
    has_more=True,
    fragment="lifting",
    keeps="lifting",
    form=LiftingForm,
    cautions=CAUTIONS,
    judgement=JUDGEMENT,
    offered=_stands_as_one,
)
