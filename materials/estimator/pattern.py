"""The pattern: foam, glue, filler, barrier, sealer and wax.

Foam is stacked in layers as thick as a block and stepped to the form: each
layer is covered by whole blocks over the largest rectangle round its cuts.
Offcuts are not used again. Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from materials.estimator.counts import Counts
from materials.estimator.errors import Missing
from materials.estimator.form import Station
from materials.estimator.lines import Line, PatternFigures, Term
from materials.estimator.ranges import rounded_up, within
from materials.estimator.spec import Block, SectionSpec
from materials.estimator.working import Basis, Place, needed, part, worked


@dataclass(frozen=True, slots=True)
class BlockStack:
    """Blocks for one pattern: how many, in how many layers, with which side of the block upright [m]."""

    blocks: int
    layers: int
    upright_m: float


def blocks_for(stations: Sequence[Station], block: Block) -> BlockStack:
    """Whole blocks that cover a form layer by layer, with the block the way it takes fewest.

    Each side of the block is tried upright, and in each layer the block is tried both ways round.
    A form that is nowhere hollow from the side never needs fewer blocks for being larger.

    Parameters
    ----------
    stations : sequence of Station
        Cuts through the form, from foot to top.
    block : Block

    Returns
    -------
    BlockStack

    Raises
    ------
    Missing
        When there are fewer than two cuts.

    References
    ----------
    Common practice, no source.
    """
    return min((_stacked(stations, *way) for way in ways_of(block)), key=lambda stack: stack.blocks)


def ways_of(block: Block) -> Iterator[tuple[float, float, float]]:
    """The ways a block may lie.

    Parameters
    ----------
    block : Block

    Yields
    ------
    tuple of float
        Upright side of the block and its two others [m]: lying flat first, which is kept where others take as many.
    """
    sides = (block.thickness_m, block.width_m, block.length_m)
    for upright in dict.fromkeys(sides):
        rest = list(sides)
        rest.remove(upright)
        yield upright, rest[0], rest[1]


@dataclass(frozen=True, slots=True)
class Layers:
    """A form in layers from its foot: thickness of each, and length and width of its largest cuts [m]."""

    thick_m: np.ndarray
    length_m: np.ndarray
    width_m: np.ndarray


def layers_of(stations: Sequence[Station], upright_m: float) -> Layers:
    """The largest extents of a form within each layer.

    Parameters
    ----------
    stations : sequence of Station
        Cuts through the form, from foot to top.
    upright_m : float
        Thickness of a whole layer [m].

    Returns
    -------
    Layers

    Raises
    ------
    Missing
        When there are fewer than two cuts.
    """
    if len(stations) < 2:
        raise Missing("Cuts through the form", "give at least its foot and its top.")
    z = np.array([station.z_m for station in stations])
    across = np.array([(station.length_m, station.width_m) for station in stations]).T
    height_m = float(z[-1])
    layers = max(1, rounded_up(height_m / upright_m))
    joints = np.minimum(np.arange(layers + 1) * upright_m, height_m)
    # A layer's largest cut is at one of its joints or at a station between them.
    layer_of_station = np.minimum(np.searchsorted(joints, z, side="right") - 1, layers - 1)
    largest = []
    for extents in across:
        at_joints = np.interp(joints, z, extents)
        within_layer = np.maximum(at_joints[:-1], at_joints[1:])
        np.maximum.at(within_layer, layer_of_station, extents)
        largest.append(within_layer)
    return Layers(np.diff(joints), *largest)


def _stacked(stations: Sequence[Station], upright_m: float, side_m: float, other_m: float) -> BlockStack:
    layers = layers_of(stations, upright_m)
    length, width = layers.length_m, layers.width_m
    covering = np.minimum(
        _covering(length, side_m) * _covering(width, other_m), _covering(length, other_m) * _covering(width, side_m)
    )
    return BlockStack(int(covering.sum()), len(covering), upright_m)


def _covering(extents: np.ndarray, side_m: float) -> np.ndarray:
    """How many times a side is laid end to end, with the hair of floating point that ``rounded_up`` allows."""
    return np.maximum(np.ceil(extents / side_m - 1e-9), 1)


def foam_density_kg_m3(strength_kpa: float) -> float:
    """Mean density of expanded polystyrene from its declared class: (CS10 + 81)/10.

    Parameters
    ----------
    strength_kpa : float
        Compressive stress at 10 % declared for the class [kPa].

    Returns
    -------
    float
        [kg/m^3]

    Raises
    ------
    OutOfRange
        Outside 30 to 500 kPa.

    References
    ----------
    EN 13163, informative annex; from memory.
    """
    within("Compressive stress at 10 %", strength_kpa, "kPa", 30, 500)
    return (strength_kpa + 81) / 10


def pattern_stage(section: SectionSpec, counts: Counts, basis: Basis) -> tuple[PatternFigures, tuple[Line, ...]]:
    """Foam and coats of a section's patterns.

    Parameters
    ----------
    section : SectionSpec
    counts : Counts
    basis : Basis

    Returns
    -------
    tuple of PatternFigures and tuple of Line
        Figures of one pattern; lines for all of them.

    Raises
    ------
    Missing
        When a studio figure is not there.
    """
    form, spec = section.form, section.pattern
    stack = blocks_for(form.stations, spec.block)
    block_m3 = spec.block.length_m * spec.block.width_m * spec.block.thickness_m
    bought_m3 = stack.blocks * block_m3
    # Where the volume is not known, the usual waste of blockwork stands in for it.
    known = form.volume_m3 is not None
    solid_m3 = form.volume_m3 if form.volume_m3 is not None else bought_m3 * (1 - basis.value("foam_waste"))
    foam_kg = solid_m3 * basis.value("foam_density")
    filler_kg = form.area_m2 * spec.filler_mm * basis.value("plaster_filler")
    figures = PatternFigures(
        blocks=stack.blocks,
        bought_m3=bought_m3,
        solid_m3=solid_m3,
        yield_fraction=solid_m3 / bought_m3,
        foam_kg=foam_kg,
        mass_kg=foam_kg + filler_kg,
    )
    stays = f"{solid_m3:.4g} m³ stays in a pattern ({form.origin if known else 'by the usual waste of blockwork'})"
    foam = _foam_lines(section, stack, block_m3, stays, counts, basis)
    lines = (*foam, *_coat_lines(section, counts, basis))
    net = solid_m3 * counts.patterns
    return figures, needed(replace(line, net=net) if line.material == "foam_block" else line for line in lines)


def _foam_lines(
    section: SectionSpec, stack: BlockStack, block_m3: float, stays: str, counts: Counts, basis: Basis
) -> Iterator[Line]:
    place, block = Place(section.name, "pattern"), section.pattern.block
    blocks = Term(
        "blocks",
        stack.blocks,
        "",
        f"{stack.layers} layer{'' if stack.layers == 1 else 's'} of {stack.upright_m:g} m, "
        f"covered by whole blocks, offcuts not used again; {stays}",
    )
    volume = Term(
        "volume of a block", block_m3, "m^3", f"{block.length_m:g} × {block.width_m:g} × {block.thickness_m:g} m"
    )
    bought = part([blocks, volume])
    yield worked(place, "foam_block", "m3", [bought], [counts.pattern_term])
    if section.pattern.method == "milled":
        yield worked(place, "cnc_milling", "m3", [bought], [counts.pattern_term])
    sides = sorted((block.length_m, block.width_m, block.thickness_m))
    joints = Term("glued faces", stack.blocks - 1, "", "each block but the first, glued before it is cut")
    face = Term("largest face of a block", sides[1] * sides[2], "m^2", volume.origin)
    adhesive = part([joints, face, basis.term("foam_adhesive")])
    yield worked(place, "foam_adhesive", "kg", [adhesive], [counts.pattern_term])


def _coat_lines(section: SectionSpec, counts: Counts, basis: Basis) -> Iterator[Line]:
    place, spec = Place(section.name, "pattern"), section.pattern
    skin = Term("skin area", section.form.area_m2, "m^2", section.form.origin)
    patterns = [counts.pattern_term]
    filler = Term(
        "filler thickness", spec.filler_mm, "mm", "this section; the foam is cut so much undersize, square to the skin"
    )
    barrier = Term("barrier coats", spec.barrier_coats, "", "this section")
    wax = Term("wax coats", spec.wax_coats, "", "this section")
    plaster = part([skin, filler, basis.term("plaster_filler")])
    yield worked(place, "plaster_filler", "kg", [plaster], patterns, [basis.term("filler_waste")])
    yield worked(place, "barrier_coat", "l", [part([skin, barrier], per=[basis.term("barrier_cover")])], patterns)
    sealed = part([skin, basis.term("sealer_coats")], per=[basis.term("sealer_cover")])
    yield worked(place, "sealer", "l", [sealed], patterns)
    yield worked(place, "wax", "kg", [part([skin, wax, basis.term("wax")])], patterns)
    discs = basis.term(f"discs_{section.grade.lower()}")
    yield worked(place, "abrasive_disc", "each", [part([skin, discs])], patterns)
