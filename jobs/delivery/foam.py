"""Foam blocks for a pattern: the blank of every layer, nested on whole blocks.

A pattern is stacked in layers as thick as a block; each layer's blank is the
largest rectangle round its cuts, with room to carve. A blank larger than a
block's face is made of several. Unlike the take-off, which counts whole blocks
to a layer, the plan cuts small layers from one block. Common practice, no
source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.delivery.cutting import CuttingPlan, Stock
from jobs.delivery.joined import joined
from jobs.delivery.nesting import nest
from materials.estimator.form import Station
from materials.estimator.pattern import layers_of, ways_of
from materials.estimator.ranges import whole, within
from materials.estimator.spec import Block


@dataclass(frozen=True, slots=True)
class Blank:
    """The foam of one layer: its number from the foot, how thick, and the sides of its blank [m]."""

    layer: int
    thick_m: float
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class FoamPlan:
    """Blanks and the blocks that they are cut from.

    Attributes
    ----------
    upright_m : float
        The side of the block that stands upright, as thick as a layer [m].
    blanks : tuple of Blank
        Of one pattern, from the foot.
    patterns : int
        How many are made [each].
    cutting : CuttingPlan
        Every sheet of it is the face of one block.
    """

    upright_m: float
    blanks: tuple[Blank, ...]
    patterns: int
    cutting: CuttingPlan

    @property
    def bought_m3(self) -> float:
        """All blocks [m^3]."""
        return self.cutting.count * self.cutting.stock.area_m2 * self.upright_m


def blanks_of(stations: Sequence[Station], upright_m: float, room_m: float) -> tuple[Blank, ...]:
    """The blank of every layer.

    Parameters
    ----------
    stations : sequence of Station
        Cuts through the form, from foot to top.
    upright_m : float
        Thickness of a layer [m].
    room_m : float
        Left round each layer to carve away [m].

    Returns
    -------
    tuple of Blank
        From the foot; the last is as thick as what is left.

    Raises
    ------
    Missing
        When there are fewer than two cuts.
    OutOfRange
        For a layer or a room that is none.
    """
    within("Thickness of a layer", upright_m, "m", 0.02, 20)
    within("Room to carve", room_m, "m", 0, 0.5)
    layers = layers_of(stations, upright_m)
    rows = zip(layers.thick_m.tolist(), layers.length_m.tolist(), layers.width_m.tolist(), strict=True)
    return tuple(
        Blank(number, thick_m, length_m + 2 * room_m, width_m + 2 * room_m)
        for number, (thick_m, length_m, width_m) in enumerate(rows, start=1)
    )


def foam_plan(
    stations: Sequence[Station], block: Block, *, kerf_m: float, room_m: float = 0.0, patterns: int = 1
) -> FoamPlan:
    """Blocks for patterns of one form, the block the way that takes fewest.

    Parameters
    ----------
    stations : sequence of Station
        Cuts through the form, from foot to top.
    block : Block
    kerf_m, room_m : float
        What the wire takes, and what is left round each layer to carve away [m].
    patterns : int
        How many are made [each].

    Returns
    -------
    FoamPlan
        With the block lying flat where others take as many.

    Raises
    ------
    Missing
        When there are fewer than two cuts.
    OutOfRange
        For sizes that no block has, or too many parts for one plan.
    """
    whole("Patterns", patterns, "", 1, 1000)
    plans = []
    for upright_m, *face in ways_of(block):
        stock = Stock(max(face), min(face), kerf_m, turning=True)
        blanks = blanks_of(stations, upright_m, room_m)
        parts = [
            part
            for blank in blanks
            for part in joined(f"layer {blank.layer}", blank.length_m, blank.width_m, stock, evenly=False)
        ]
        plans.append(FoamPlan(upright_m, blanks, patterns, nest(parts * patterns, stock)))
    return min(plans, key=lambda plan: plan.cutting.count)
