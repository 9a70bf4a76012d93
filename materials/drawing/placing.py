"""Where each section stands: one upon the other unless a height is given."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from materials.drawing.hatches import HATCHED_STAGES
from materials.estimator.errors import OutOfRange, UnknownChoice
from materials.estimator.form import Form
from materials.estimator.outline import Outline, ViewName

_FURTHEST_M = 1000.0


def _check(name: str, value_m: float) -> None:
    # Not a number compares as false, so it is refused too.
    if not -_FURTHEST_M <= value_m <= _FURTHEST_M:
        raise OutOfRange(name, value_m, "m", -_FURTHEST_M, _FURTHEST_M)


@dataclass(frozen=True, slots=True)
class Footing:
    """One section before it is placed.

    Attributes
    ----------
    form : Form
        Its extents are read.
    stand_m : float or None
        Height of its foot above the floor [m]; None to stand on the section before.
    offset_m : float
        How far to the right of the middle its own middle stands [m].
    mirrored : bool
        Whether there is a left and a right of it.
    """

    form: Form
    stand_m: float | None = None
    offset_m: float = 0.0
    mirrored: bool = False

    def __post_init__(self) -> None:
        if self.stand_m is not None:
            _check("stand", self.stand_m)
        _check("offset", self.offset_m)


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one section stands, or one half of a mirrored pair.

    Attributes
    ----------
    x_m, z_m : float
        Middle of its extents across, and its foot above the floor [m].
    mirrored : bool
        Whether it is the turned one of a pair.
    """

    x_m: float
    z_m: float
    mirrored: bool = False


def stack(sections: Sequence[Footing]) -> tuple[tuple[Placement, ...], ...]:
    """Give every section its place, in order from the floor up.

    A section without a height stands on the top of the last one without a height. A
    section with a height of its own stands beside and leaves the stack as it is. A pair
    stands at its offset to either side; with no offset its halves touch in the middle.

    Parameters
    ----------
    sections : sequence of Footing
        In the order they are built up.

    Returns
    -------
    tuple of tuple of Placement
        For each section its one place, or the two of a pair.
    """
    placements: list[tuple[Placement, ...]] = []
    top_m = 0.0
    for section in sections:
        foot_m = top_m if section.stand_m is None else section.stand_m
        if section.stand_m is None:
            top_m += section.form.height_m
        if section.mirrored:
            aside_m = section.offset_m or section.form.length_m / 2
            placements.append((Placement(aside_m, foot_m), Placement(-aside_m, foot_m, mirrored=True)))
        else:
            placements.append((Placement(section.offset_m, foot_m),))
    return tuple(placements)


@dataclass(frozen=True, slots=True)
class Placed:
    """One section in its place, ready to be drawn.

    Attributes
    ----------
    name : str
        As it is called.
    outlines : mapping of str to Outline
        Its views, from the middle of its extents and its foot.
    x_m, y_m, z_m : float
        Where that middle and foot stand; y runs away from who looks at the front [m].
    mirrored : bool
        Whether it is drawn left for right.
    hatch : str or None
        The stage it has reached, one of ``HATCHED_STAGES``; None for plain paper.
    """

    name: str
    outlines: Mapping[ViewName, Outline]
    x_m: float = 0.0
    y_m: float = 0.0
    z_m: float = 0.0
    mirrored: bool = False
    hatch: str | None = None

    def __post_init__(self) -> None:
        for name, value_m in (("offset", self.x_m), ("depth", self.y_m), ("stand", self.z_m)):
            _check(name, value_m)
        if self.hatch is not None and self.hatch not in HATCHED_STAGES:
            raise UnknownChoice("stage", self.hatch, HATCHED_STAGES)
