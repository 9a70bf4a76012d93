"""The cutting plan of foam blocks: the blank of every layer, and the blocks that they are cut from."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from jobs.delivery.foam import FoamPlan, foam_plan
from jobs.pictures.cutting import sides_text
from jobs.sheets.boards import HUNDRED, SheetShown, figures, shown
from jobs.sheets.kind import About, Answer, SheetForm, SheetKind
from jobs.sheets.known import Subject
from materials.drawing.sizes import spoken_size
from materials.estimator.lines import Term
from materials.estimator.reckoned import Reckoned, product
from studio.forms import NumberField
from studio.quantities import QuantityField


class FoamForm(SheetForm):
    """How much is left to carve, and for how many patterns."""

    room = QuantityField(
        kind="length",
        system="metric",
        allow_zero=True,
        label="Left round each layer",
        help_text="To carve away.",
        error_messages={"required": "Enter what is left to carve away, such as 10 mm."},
    )
    patterns = NumberField(label="Patterns", wanted="how many patterns, such as 1", low="1", high="50", decimals=0)

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The studio's usual room, and every pattern of the section."""
        patterns = subject.measures.patterns if subject.section else 1
        return {"room": subject.job.value("foam_room"), "patterns": min(patterns, 50)}


@dataclass(frozen=True, slots=True)
class LayerRow:
    """One layer: number, thickness and sides in words."""

    number: int
    thick: str
    sides: str


@dataclass(frozen=True, slots=True)
class Value:
    """The plan, its layers and its blocks."""

    plan: FoamPlan
    block: str
    layers: tuple[LayerRow, ...]
    sheets: tuple[SheetShown, ...]


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The plan for the patterns of one section."""
    job, spec = subject.job, subject.spec
    block, patterns = spec.pattern.block, int(asked["patterns"])
    plan = foam_plan(spec.form.stations, block, kerf_m=job.value("wire_cut"), room_m=asked["room"], patterns=patterns)
    count, floor, _ = figures(plan.cutting, "block")
    upright = Term("a block stands", plan.upright_m, "m", "the side that takes fewest blocks")
    face = Term("face of a block", plan.cutting.stock.area_m2, "m^2", "its two other sides")
    bought = product("foam bought", "m3", [count.term, face, upright])
    sides = sides_text(plan.cutting.stock.length_m, plan.cutting.stock.width_m, job.units)
    words = f"{sides}, {spoken_size(plan.upright_m, job.units)} upright"
    carved: tuple[Reckoned, ...] = ()
    if spec.form.volume_m3 is not None:
        solid = Term("stays in the patterns", spec.form.volume_m3 * patterns, "m^3", spec.form.origin)
        carved = (product("foam that stays", "%", [solid, HUNDRED], [bought.term]),)
    value = Value(
        plan,
        words,
        tuple(
            LayerRow(
                each.layer, spoken_size(each.thick_m, job.units), sides_text(each.length_m, each.width_m, job.units)
            )
            for each in plan.blanks
        ),
        shown(plan.cutting, "Block", job.units),
    )
    return Answer(
        value,
        big=(count, bought, *carved),
        workings=(floor,),
        cautions=tuple(_cautions(subject, plan)),
        headline=f"{count.value:.0f} block{'' if count.value == 1 else 's'}, {len(plan.blanks)} "
        f"layer{'' if len(plan.blanks) == 1 else 's'} to a pattern.",
    )


def _cautions(subject: Subject, plan: FoamPlan) -> list[str]:
    usual = subject.measures.pattern.blocks * plan.patterns
    if plan.cutting.count < usual:
        return [
            f"The take-off counts {usual} blocks, whole ones to each layer; cut like this, {plan.cutting.count} do."
        ]
    if plan.cutting.count > usual:
        return [f"The take-off counts {usual} blocks without room to carve; with it, {plan.cutting.count} are needed."]
    return []


KIND = SheetKind(
    key="foam",
    title="Foam blocks, cutting plan",
    says="The blank of every layer, and every block drawn with its cuts.",
    about=About.SECTION,
    stages=("pattern",),
    build=build,
    has_more=True,
    keeps="foam",
    form=FoamForm,
    cautions=(
        "Hot-wire fumes are harmful: cut with extraction and never hotter than the foam needs.",
        "Polystyrene foam burns fast: no flame, no sparks, an extinguisher at hand.",
        "Blocks are light and sail in the wind: weigh them down out of doors.",
    ),
    judgement="The plan takes each layer by its largest rectangle; whoever carves judges the joints, the grain of the "
    "blocks and what an offcut may still give.",
)
