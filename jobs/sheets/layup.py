"""The lay-up card: plies in order, sessions and holds, thickness and mass, and the glass to cut."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString

from jobs.models import Step, StepTemplate
from jobs.sheets.kind import About, Answer, Picture, SheetKind
from jobs.sheets.known import Subject
from jobs.sheets.layers import laid_besides, laid_up
from materials.drawing.roll import Roll as DrawnRoll
from materials.drawing.roll import rolls_svg
from materials.estimator.layup_card import Besides, LayUpCard, Roll, lay_up_card
from materials.estimator.lines import Term
from materials.estimator.spec import LayUp
from materials.units import System, format_quantity

FIGURES = (
    *("glass_density", "resin_density_cured", "gel_coat_density", "wet_layers"),
    *("allowance_resin", "allowance_gel_coat"),
)


@dataclass(frozen=True, slots=True)
class Value:
    """The card, what is laid besides, the steps of the stage that have a hold, and the plan of the roll."""

    card: LayUpCard
    lay_up: LayUp
    area: Term
    holds: tuple[Step | StepTemplate, ...]
    plan: Picture
    besides: Besides | None


def holds_of(subject: Subject) -> tuple[Step | StepTemplate, ...]:
    """The steps after which the stage is left alone: the commission's own, or the studio's usual ones."""
    if subject.section is None:
        return ()
    own = Step.objects.filter(stage__section=subject.section, stage__key=subject.stage)
    usual = StepTemplate.objects.filter(stage__key=subject.stage)
    return tuple(own.filter(hold_hours__gt=0) if own.exists() else usual.filter(hold_hours__gt=0))


def build(subject: Subject, asked: Mapping[str, Any]) -> Answer:
    """The card of one mould or one cast."""
    job, (lay_up, area) = subject.job, laid_up(subject)
    roll = Roll(job.term("roll_width"), job.term("glass_lap"), job.term("longest_cut"), job.basis.glass_waste)
    besides = laid_besides(subject)
    card = lay_up_card(lay_up, area, roll, {key: job.term(key) for key in FIGURES}, besides)
    value = Value(card, lay_up, area, holds_of(subject), _plan(card, roll, job.units), besides)
    layers = sum(1 for layer in card.layers if layer.number)
    how = f"in {card.sessions} sessions, each left to set before the next" if card.sessions > 1 else "wet on wet"
    return Answer(
        value,
        big=(card.resin, card.gel_coat, card.thickness, card.mass)
        if card.gel_coat.value
        else (card.resin, card.thickness, card.mass),
        workings=tuple(figure for cut in card.cuts for figure in (cut.covered, cut.length, cut.mass)),
        headline=f"One {subject.stage}: {layers} layer{'' if layers == 1 else 's'} {how}.",
    )


def _plan(card: LayUpCard, roll: Roll, system: System) -> Picture:
    drawn = []
    for cut in card.cuts:
        layers = f"{cut.layers} layer{'' if cut.layers == 1 else 's'}"
        long = format_quantity(round(cut.cut_m, 2), "length", system)
        cuts = f"{cut.cuts_a_layer} cut{'' if cut.cuts_a_layer == 1 else 's'} of {long}"
        words = f"{cut.name}: {layers}, each {cuts}"
        drawn.append(DrawnRoll(words, cut.layers, cut.cuts_a_layer, cut.cut_m, roll.width.value))
    title = f"Cutting plan. {'; '.join(each.words for each in drawn)}"
    return Picture(SafeString(rolls_svg(drawn, title=title)), title)


KIND = SheetKind(
    key="layup",
    title="Lay-up card",
    says="Plies in order, how many wet on wet, holds, thickness and mass, glass to cut.",
    about=About.STAGE,
    stages=("mould", "cast"),
    build=build,
    has_more=True,
    cautions=(
        "Lay no more layers wet on wet than the card says: thick wet laminate heats itself, shrinks and can smoke.",
        "Wear gloves, goggles and the breathing protection of the air sheet; glass dust wants a P3 mask and wet or "
        "extracted grinding.",
        "A thickness is an average: measure at the edges and through trial holes before relying on it.",
    ),
    judgement="The card does not replace the judgement of whoever leads the laminating, nor an engineer's for what "
    "must carry load.",
)
