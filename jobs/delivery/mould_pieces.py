"""Where a piece of a mould balances: its part of the skin, the returns along its seams, its frame.

A model that was cut into pieces tells it of each. A form known by its dimensions
does not say where its seams run: its pieces are taken as even wedges about its
upright axis, the one that faces front. That is an estimate.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from jobs.delivery.balance import LoadPart, Strip, shell_centre_m, skin_strips
from materials.estimator.form import Form, Station
from materials.estimator.lines import Term
from materials.estimator.ranges import whole, within
from materials.estimator.reckoned import Reckoned, product

Point = tuple[float, float, float]

_STEPS = 96
# An even patch that bulges one way balances in the middle half of its extents: common practice, no source.
_GIVE = 0.25


@dataclass(frozen=True, slots=True)
class Patch:
    """One piece's part of a mould, standing as it does in the mould.

    Attributes
    ----------
    skin_m, seams_m : tuple of float
        Centre of its skin, and of its seams: right and back of the middle of its extents, above its foot [m].
    extents_m : tuple of float
        Length, width and height [m].
    skin_share, seams_share : float
        Of the mould's skin and of its returns [dimensionless].
    is_measured : bool
        Whether a model tells it.
    origin : str
        Where it is known from.
    """

    skin_m: Point
    seams_m: Point
    extents_m: Point
    skin_share: float
    seams_share: float
    is_measured: bool
    origin: str

    def __post_init__(self) -> None:
        for side in self.extents_m:
            within("Extent of a mould piece", side, "m", 0, 1000)
        within("Share of the mould's skin", self.skin_share, "", 0, 1)
        within("Share of the mould's seams", self.seams_share, "", 0, 1)

    @property
    def give(self) -> Reckoned:
        """How far from there it may balance until it is weighed [m]."""
        largest = Term("largest extent of the piece", max(self.extents_m), "m", self.origin)
        share = Term("share of it", _GIVE, "", "an even patch balances in the middle half: common practice, no source")
        return product("balance point, give or take", "m", [largest, share])


def even_patch(form: Form, pieces: int) -> Patch:
    """One of equal pieces, as nearly as a form tells without its seams.

    Two pieces are a front and a back; more are wedges about the upright axis. A mould in one piece
    is the whole skin, its return round the foot.

    Parameters
    ----------
    form : Form
    pieces : int

    Returns
    -------
    Patch
        Of a ball in halves exact: half the radius from the parting plane. Else an estimate.

    Raises
    ------
    WrongKind, OutOfRange
        For pieces that are none.
    """
    whole("Mould pieces", pieces, "", 1, 60)
    extents = form.length_m, form.width_m, form.height_m
    if pieces == 1:
        origin = f"the whole skin: {form.origin}; its return taken round the foot"
        return Patch(shell_centre_m(form), (0.0, 0.0, 0.0), extents, 1.0, 1.0, False, origin)
    half = math.pi / pieces
    strips = [strip for strip in skin_strips(form) if strip.area_m2 > 0]
    skin_m2 = math.fsum(strip.area_m2 for strip in strips)
    out_m = math.fsum(strip.area_m2 * _out_m(strip, half) for strip in strips) / skin_m2
    seam_out_m, seam_height_m = _seam_centre(form, strips, half)
    inner_m = min(0.0 if strip.is_end else math.cos(half) * _narrowest(strip) / 2 for strip in strips)
    middle_m = (inner_m + form.width_m / 2) / 2
    aside_m, _, height_m = shell_centre_m(form)
    # It faces front, so that what lies further out lies less far back.
    return Patch(
        skin_m=(aside_m, middle_m - out_m, height_m),
        seams_m=(aside_m, middle_m - seam_out_m, seam_height_m),
        extents_m=(form.length_m * math.sin(half), form.width_m / 2 - inner_m, form.height_m),
        skin_share=1 / pieces,
        seams_share=1 / pieces,
        is_measured=False,
        origin=f"estimated: one of {pieces} even wedges about the upright axis, {form.origin}",
    )


def _narrowest(strip: Strip) -> float:
    return min(strip.low.width_m, strip.high.width_m)


def _out_m(strip: Strip, half: float) -> float:
    """How far from the upright axis a wedge of a strip balances, by quadrature over its angle [m]."""
    turns = half * (2 * (np.arange(_STEPS) + 0.5) / _STEPS - 1)
    if strip.is_end:
        return 2 / 3 * strip.low.width_m / 2 * float(np.cos(turns).mean())
    (low_rim, low_out), (high_rim, high_out) = (_arc(cut, turns) for cut in (strip.low, strip.high))
    moment = 2 * low_rim * low_out + low_rim * high_out + high_rim * low_out + 2 * high_rim * high_out
    return moment / (3 * (low_rim + high_rim))


def _arc(cut: Station, turns: np.ndarray) -> tuple[float, float]:
    """A wedge of a cut's rim: how long it is, and how far out it balances [m]."""
    long, deep = cut.length_m / 2, cut.width_m / 2
    steps = np.hypot(long * np.cos(turns), deep * np.sin(turns))
    rim = float(steps.mean())
    return rim, float((steps * deep * np.cos(turns)).mean()) / rim if rim > 0 else 0.0


def _seam_centre(form: Form, strips: list[Strip], half: float) -> tuple[float, float]:
    """How far out and how high the upright seams of a wedge balance, each the same on either side [m]."""
    found = []
    for low, high in pairwise(form.stations):
        (x1, y1), (x2, y2) = (
            (cut.length_m / 2 * math.sin(half), cut.width_m / 2 * math.cos(half)) for cut in (low, high)
        )
        found.append((math.hypot(x2 - x1, y2 - y1, high.z_m - low.z_m), (y1 + y2) / 2, (low.z_m + high.z_m) / 2))
    for end in [strip.low for strip in strips if strip.is_end]:
        x, y = end.length_m / 2 * math.sin(half), end.width_m / 2 * math.cos(half)
        found.append((math.hypot(x, y), y / 2, end.z_m))
    total = math.fsum(length for length, _, _ in found)
    return tuple(math.fsum(each[0] * each[axis] for each in found) / total for axis in (1, 2))  # type: ignore[return-value]


@dataclass(frozen=True, slots=True)
class MouldMasses:
    """Skin and returns of one whole mould, and the frame of a piece [kg]."""

    skin: Term
    returns: Term
    frame: Term


def piece_parts(patch: Patch, masses: MouldMasses) -> tuple[LoadPart, ...]:
    """A piece as parts of a load, so that the pieces of a mould sum to it.

    Parameters
    ----------
    patch : Patch
    masses : MouldMasses

    Returns
    -------
    tuple of LoadPart
        Skin, returns and frame; the frame is taken where the skin balances: common practice, no source.
    """
    made = (
        (_share("skin of the piece", masses.skin, patch.skin_share), patch.skin_m),
        (_share("returns of the piece", masses.returns, patch.seams_share), patch.seams_m),
        (masses.frame, patch.skin_m),
    )
    return tuple(_part(mass, at, patch.origin) for mass, at in made)


def _share(name: str, whole_mass: Term, share: float) -> Term:
    return Term(
        name,
        share * whole_mass.value,
        "kg",
        f"{share:.4g} of the {whole_mass.value:.4g} kg of {whole_mass.label}, {whole_mass.origin}",
    )


def _part(mass: Term, at: Point, origin: str) -> LoadPart:
    aside, behind, height = (
        Term(f"{mass.label} {where}", value, "m", origin)
        for where, value in zip(("to the right", "to the back", "above the foot"), at, strict=True)
    )
    return LoadPart(mass, height, aside, behind)
