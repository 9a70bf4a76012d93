"""The stages of work as the studio begins with them, as rows that it may change.

Holds are those of the figures of waiting where there is one, so that a
programme and a stage wait alike. Order, steps, checks and the shares of the
work are common practice, no source.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from jobs.figures.reference import COEFFICIENTS
from materials.estimator.reference.rows import PRACTICE


@dataclass(frozen=True, slots=True)
class Hold:
    """What follows a step: hours at 20 °C, why, and where they come from."""

    hours: str
    reason: str
    evidence: str = PRACTICE


@dataclass(frozen=True, slots=True)
class SeededStep:
    """One step; it waits for a cure or for something to dry wherever it has a hold."""

    name: str
    hold: Hold | None = None
    is_barrier: bool = False
    needs_barrier: bool = False


@dataclass(frozen=True, slots=True)
class SeededStage:
    """One stage with its steps and checks."""

    key: str
    name: str
    weight: int
    steps: tuple[SeededStep, ...]
    checks: tuple[str, ...]
    waits: str = ""
    sign_off: str = ""
    traits: dict[str, bool] = field(default_factory=dict)


def _figure(key: str, reason: str) -> Hold:
    known = COEFFICIENTS[key]
    return Hold(f"{known.value:g}", reason, known.source)


_WAX = Hold("0.5", "wax hazes before it is buffed", "published: 30 min between coats, wax suppliers")
_GEL_COAT = Hold("2", "gel coat sets before it is laid up", "published: 1 to 2 h, suppliers")
_OVERNIGHT = Hold("16", "layers set before more are laid")
_STRIPS = Hold("16", "joining strips cure before it is handled")
# The figure counts from spraying, and a day of it has passed before the coat may be touched.
_SPRAYED = Hold("24", "topcoat hardens before it is handled")
_WRAPPED = Hold(f"{COEFFICIENTS['hold_paint'].value - 24:g}", "topcoat hardens before it is wrapped")

STAGES = (
    SeededStage(
        key="pattern",
        name="Pattern",
        weight=30,
        sign_off="form",
        steps=(
            SeededStep("Foam blocked up and roughed out"),
            SeededStep("Carved to form"),
            SeededStep("Filled with plaster", _figure("hold_filler", "plaster filler dries")),
            SeededStep(
                "Foam closed with the barrier coat", Hold("2", "last coat of the barrier dries"), is_barrier=True
            ),
            SeededStep("Faired and sanded"),
            SeededStep("Sealed and polished"),
        ),
        checks=(
            "No foam shows through the barrier, corners and undersides looked at",
            "The form agrees with the drawing, by template and by raking light",
            "Every piece will draw: parting lines marked, undercuts looked at",
        ),
    ),
    SeededStage(
        key="mould",
        name="Mould",
        weight=25,
        waits="passed",
        steps=(
            SeededStep("Parting walls set"),
            SeededStep("Waxed and release film on", _WAX),
            SeededStep("Tooling gel coat on", _GEL_COAT, needs_barrier=True),
            SeededStep("First layers laid", _OVERNIGHT, needs_barrier=True),
            SeededStep("Remaining layers and returns laid", _OVERNIGHT, needs_barrier=True),
            SeededStep("Frames on", _figure("hold_mould_on_pattern", "mould cures on its pattern")),
            SeededStep(
                "Taken off, trimmed, returns drilled",
                _figure("hold_new_mould", "new mould rests before its first cast"),
            ),
        ),
        checks=(
            "Returns close without rocking and every bolt goes in",
            "No air behind the gel coat, tapped all over",
            "Every piece is marked with section, number and top",
        ),
    ),
    SeededStage(
        key="cast",
        name="Cast",
        weight=15,
        waits="passed",
        steps=(
            SeededStep("Mould cleaned, polished and waxed", _WAX),
            SeededStep("Gel coat on", _GEL_COAT),
            SeededStep("Layers laid", _figure("hold_cast", "cast cures in its mould")),
            SeededStep("Taken out and trimmed"),
            SeededStep("Pieces bolted up and joined inside", _STRIPS),
        ),
        checks=(
            "Layers as the lay-up says, thickness measured at the edges",
            "No air behind the gel coat, tapped all over",
            "Batch numbers of gel coat, resin and catalyst stand in the stores",
        ),
    ),
    SeededStage(
        key="metalwork",
        name="Metalwork",
        weight=5,
        traits={"optional": True},
        steps=(
            SeededStep("Steel cut, welded and protected"),
            SeededStep("Set in the cast and laminated over", _STRIPS),
        ),
        checks=("Fixings as the engineer's letter says", "No bare steel, welds looked at"),
    ),
    SeededStage(
        key="finish",
        name="Finish",
        weight=20,
        waits="begun",
        sign_off="sample",
        steps=(
            SeededStep("Seams filled and faired", Hold("2", "fairing filler hardens before it is sanded")),
            SeededStep("Surface prepared for paint"),
            SeededStep("Primer on", Hold("16", "primer hardens before it is sanded")),
            SeededStep("Topcoat on", _SPRAYED),
            SeededStep("Flatted, polished and touched up", _WRAPPED),
        ),
        checks=(
            "Colour against the agreed sample, in daylight",
            "No runs, dust or thin edges",
            "Paint system and batch written down for the hand-over",
        ),
    ),
    SeededStage(
        key="assembly",
        name="Assembly",
        weight=5,
        waits="begun",
        sign_off="fit_up",
        traits={"for_whole": True, "optional": True},
        steps=(
            SeededStep("Sections stood together and bolted"),
            SeededStep("Joints closed and faired", _STRIPS),
        ),
        checks=("Joints close and the lines run through", "Stands plumb on its fixings"),
    ),
    SeededStage(
        key="crate",
        name="Crate",
        weight=5,
        sign_off="dispatch",
        traits={"optional": True},
        steps=(
            SeededStep("Crate built"),
            SeededStep("Section in, padded and tied down"),
        ),
        checks=(
            "Weighed, and the weight stands on the crate",
            "Top, lifting points and centre of mass marked",
            "Photographed before the lid went on",
        ),
    ),
    SeededStage(
        key="install",
        name="Install",
        weight=5,
        waits="passed",
        sign_off="installed",
        traits={"for_whole": True, "optional": True},
        steps=(
            SeededStep("Base and fixings looked at"),
            SeededStep("Stood and fixed"),
            SeededStep("Touched up and cleaned"),
        ),
        checks=("Fixings tightened and noted", "Hand-over record and care sheet left with the commissioner"),
    ),
)


# People at once, where it is worked, and the steps in the spray booth.
_PLANNED: dict[str, tuple[int, str, tuple[str, ...]]] = {
    "pattern": (2, "bay", ()),
    "mould": (2, "bay", ()),
    "cast": (2, "bay", ()),
    "metalwork": (1, "", ()),
    "finish": (2, "bay", ("Primer on", "Topcoat on")),
    "assembly": (3, "bay", ()),
    "crate": (2, "", ()),
    "install": (2, "outdoors", ()),
}


def seed_planning(apps: Any) -> None:
    """Say of the stages as delivered how many work at once and where; ``apps`` is a migration's registry of models."""
    for key, (crew, room, in_booth) in _PLANNED.items():
        apps.get_model("jobs", "StageTemplate").objects.filter(key=key).update(crew=crew, room=room)
        for model in ("StepTemplate", "Step"):
            steps = apps.get_model("jobs", model).objects.filter(stage__key=key, name__in=in_booth)
            steps.update(in_booth=True)


def seed_stages(apps: Any) -> None:
    """Add the stages to a studio that has none; ``apps`` is a migration's registry of models."""
    template = apps.get_model("jobs", "StageTemplate")
    if template.objects.exists():
        return
    for position, known in enumerate(STAGES, start=1):
        row = template.objects.create(
            key=known.key,
            name=known.name,
            position=position * 10,
            weight=known.weight,
            waits=known.waits,
            sign_off=known.sign_off,
            **known.traits,
        )
        _add_steps(apps.get_model("jobs", "StepTemplate"), row, known)
        check = apps.get_model("jobs", "CheckTemplate")
        check.objects.bulk_create(
            check(stage=row, position=number, text=text) for number, text in enumerate(known.checks, start=1)
        )


def _add_steps(step: Any, row: Any, known: SeededStage) -> None:
    step.objects.bulk_create(
        step(
            stage=row,
            position=number,
            name=each.name,
            hold_hours=Decimal(each.hold.hours if each.hold else "0"),
            hold_reason=each.hold.reason if each.hold else "",
            hold_evidence=each.hold.evidence if each.hold else "",
            slower_when_cold=each.hold is not None,
            is_barrier=each.is_barrier,
            needs_barrier=each.needs_barrier,
        )
        for number, each in enumerate(known.steps, start=1)
    )
