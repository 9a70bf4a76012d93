"""What a practitioner would stop at, with the numbers and what to do.

Thresholds are the studio's figures: common practice, no source.
"""

from collections.abc import Iterator
from math import ceil

from materials.estimator.counts import Counts
from materials.estimator.laminate import resin_kg_m2
from materials.estimator.lines import CastFigures, Caution, MouldFigures, PatternFigures
from materials.estimator.spec import LayUp, SectionSpec
from materials.estimator.working import Basis

_LEAST_RESIN_TO_MAT = 2.0
# Organic forms waste some half of the blockwork; a quarter used is worth another look.
_LEAST_FOAM_USED = 0.25


def cautions_of(
    section: SectionSpec,
    counts: Counts,
    pattern: PatternFigures,
    mould: MouldFigures,
    cast: CastFigures,
    basis: Basis,
) -> tuple[Caution, ...]:
    """Cautions of one section.

    Parameters
    ----------
    section : SectionSpec
    counts : Counts
    pattern : PatternFigures
    mould : MouldFigures
    cast : CastFigures
    basis : Basis

    Returns
    -------
    tuple of Caution

    Raises
    ------
    Missing
        When a studio figure is not there.
    """
    found = (
        *_of_form(section, basis),
        *_of_pattern(pattern),
        *_of_layups(section, basis),
        *_of_mould(section, counts, mould, cast, basis),
        *_of_cast(section, cast, basis),
    )
    return tuple(Caution(section.name, code, text) for code, text in found)


def _of_form(section: SectionSpec, basis: Basis) -> Iterator[tuple[str, str]]:
    form = section.form
    if form.volume_m3 is None:
        share = basis.value("foam_waste")
        yield (
            "volume_unknown",
            f"The enclosed volume is not known, so {1 - share:.0%} of the foam bought is taken to stay in the pattern; "
            "enter the volume to have the pattern's mass right.",
        )
    largest_m2 = basis.value("flat_panel")
    if form.largest_flat_m2 > largest_m2:
        yield (
            "flat_panel",
            f"The largest flat face is {form.largest_flat_m2:.2f} m², and a single skin over {largest_m2:g} m² drums "
            "and bows; add crown, ribs, core or returns, and have its stiffness checked.",
        )


def _of_pattern(pattern: PatternFigures) -> Iterator[tuple[str, str]]:
    if pattern.yield_fraction < _LEAST_FOAM_USED:
        yield (
            "foam_yield",
            f"Only {pattern.yield_fraction:.0%} of the {pattern.bought_m3:.2f} m³ of foam bought stays in the pattern; "
            "give a block or board that suits the section, or cut it from what others leave.",
        )


def _of_layups(section: SectionSpec, basis: Basis) -> Iterator[tuple[str, str]]:
    for what, layup in (("mould", section.mould.layup), ("cast", section.cast.layup)):
        ratio = _resin_to_mat(layup)
        if ratio is not None and ratio < _LEAST_RESIN_TO_MAT:
            yield (
                f"lean_{what}",
                f"The {what}'s lay-up {layup.name} has {ratio:.2f} times as much resin as mat, and hand-laid mat takes "
                "at least twice its weight; check the glass fraction.",
            )
    layers = sum(ply.layers for ply in section.cast.layup.plies if ply.kind != "tissue")
    at_once = basis.value("wet_layers")
    if layers > at_once >= 1:
        yield (
            "many_layers",
            f"The cast has {layers} layers, and more than {at_once:g} laid wet in one session overheat; plan "
            f"{ceil(layers / at_once)} sessions with a night between them.",
        )


def _resin_to_mat(layup: LayUp) -> float | None:
    mat = [ply for ply in layup.plies if ply.kind == "csm"]
    if not mat:
        return None
    glass_kg_m2 = sum(ply.layers * ply.weight_kg_m2 for ply in mat)
    return sum(resin_kg_m2(ply.layers * ply.weight_kg_m2, ply.glass_fraction) for ply in mat) / glass_kg_m2


def _of_mould(
    section: SectionSpec, counts: Counts, mould: MouldFigures, cast: CastFigures, basis: Basis
) -> Iterator[tuple[str, str]]:
    piece = _lift_advice(mould.piece_mass_kg, basis)
    if piece:
        yield "heavy_piece", f"A mould piece weighs {mould.piece_mass_kg:.0f} kg, {piece}"
    if mould.mass_kg < cast.mass_kg:
        yield (
            "light_mould",
            f"The mould weighs {mould.mass_kg:.0f} kg and the cast {cast.mass_kg:.0f} kg, and a mould is usually two "
            "to four times its cast; give the mould more layers.",
        )
    limit_m = basis.value("piece_span")
    span_m = _least_span_m((section.form.length_m, section.form.width_m, section.form.height_m), mould.pieces)
    if span_m > limit_m:
        yield (
            "large_piece",
            f"A mould piece spans at least {span_m:.1f} m even when each cut halves the longest side, and over "
            f"{limit_m:g} m is hard to handle; use more than {mould.pieces} pieces, or divide the section.",
        )
    life = basis.value("pulls_per_mould")
    if section.cast.pulls > life:
        yield (
            "mould_life",
            f"{section.cast.pulls} casts are more than the {life:g} a mould is counted on for, so {counts.moulds} "
            "moulds are reckoned, each with a pattern of its own, because a foam pattern is lost with its mould; "
            "keep a cast as master, or allow for a stronger mould.",
        )


def _of_cast(section: SectionSpec, cast: CastFigures, basis: Basis) -> Iterator[tuple[str, str]]:
    advice = _lift_advice(cast.whole_kg, basis)
    if advice:
        steel = f" with its {section.metal_kg:g} kg of metal" if section.metal_kg else ""
        yield "heavy_cast", f"A cast{steel} weighs {cast.whole_kg:.0f} kg, {advice}"


def _lift_advice(mass_kg: float, basis: Basis) -> str:
    alone_kg, hoist_kg = basis.value("one_person_lift"), basis.value("hoist_from")
    if mass_kg > hoist_kg:
        return f"over {hoist_kg:g} kg: use a hoist, and plan the lift."
    if mass_kg > alone_kg:
        return f"over the {alone_kg:g} kg one person lifts: see its handling sheet before anybody lifts it."
    return ""


def _least_span_m(extents_m: tuple[float, float, float], pieces: int) -> float:
    """Longest side of a piece when each cut goes to the side that is longest, as long as pieces last."""
    cuts = [1, 1, 1]
    while True:
        parts = [extent / cut for extent, cut in zip(extents_m, cuts, strict=True)]
        longest = parts.index(max(parts))
        made = cuts[0] * cuts[1] * cuts[2]
        if made // cuts[longest] * (cuts[longest] + 1) > pieces:
            return parts[longest]
        cuts[longest] += 1
