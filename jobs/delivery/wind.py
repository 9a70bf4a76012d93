"""A first look at a piece in the wind: will it turn over, will it slide, what would hold it.

Screening only. Local funnelling, gusts round buildings, fatigue, the armature
and the fixings are an engineer's work.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.delivery.crate_parts import GRAVITY_M_S2
from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned, product, summed

_KN_TO_A_N = Term("kilonewtons to a newton", 0.001, "kN/N", "by definition")

SCREENING = (
    "Screening only: not a structural design. A chartered engineer designs base, armature and fixings, "
    "with the ground investigated and the local wind code applied."
)


@dataclass(frozen=True, slots=True)
class Push:
    """A strip of a shadow: its area [m^2], its middle above the foot [m], and the one pressure on it [Pa]."""

    area: Term
    middle: Term
    pressure: Term

    def __post_init__(self) -> None:
        within("Shadow in the wind", self.area.value, "m²", 1e-6, 10_000)
        within("Height of the shadow's middle", self.middle.value, "m", 0, 200)
        within("Pressure of the wind", self.pressure.value, "Pa", 0, 20_000)


@dataclass(frozen=True, slots=True)
class Factors:
    """Partial factors on wind and weight, and the friction of the foot [dimensionless]."""

    wind: Term
    weight: Term
    friction: Term

    def __post_init__(self) -> None:
        within("Partial factor on the wind", self.wind.value, "", 1, 3)
        within("Partial factor on the weight", self.weight.value, "", 0.5, 1)
        within("Friction of the foot", self.friction.value, "", 0.05, 1)


@dataclass(frozen=True, slots=True)
class Face:
    """The piece as the wind from one side meets it.

    Attributes
    ----------
    name : str
        "front" or "side".
    pushes : tuple of Push
        Its shadow in strips, from the foot up.
    coefficient : Term
        Force coefficient [dimensionless].
    arm, base : Term
        From the centre of mass to the edge that it would turn over, and the base from edge to edge [m].
    """

    name: str
    pushes: tuple[Push, ...]
    coefficient: Term
    arm: Term
    base: Term

    def __post_init__(self) -> None:
        if not self.pushes:
            raise Missing("Shadow in the wind", "give it an outline from this side.")
        within("Force coefficient", self.coefficient.value, "", 0.1, 3)
        within(
            "From the centre of mass to the edge of the base",
            self.arm.value,
            "m",
            0.005,
            100,
            "It falls over by itself; enter a wider base.",
        )

    @property
    def area_m2(self) -> float:
        """Its whole shadow [m^2]."""
        return math.fsum(push.area.value for push in self.pushes)


@dataclass(frozen=True, slots=True)
class Stance:
    """How a piece stands in the wind on one face.

    Attributes
    ----------
    forces : tuple of Reckoned
        On each strip [N]; where there is one, it is ``force``.
    force, overturning, righting : Reckoned
        [N], [N*m] and [N*m], without partial factors.
    turning, sliding : Reckoned
        What rests over what turns it, and friction over force [dimensionless].
    ballast : Reckoned
        What has to be added so that it neither turns nor slides, partial factors included [kg].
    anchor_pull, anchor_shear : Reckoned
        What anchors along the windward edge, and all anchors together, have to hold, partial factors included [kN].
    """

    face: Face
    forces: tuple[Reckoned, ...]
    force: Reckoned
    overturning: Reckoned
    righting: Reckoned
    turning: Reckoned
    sliding: Reckoned
    ballast: Reckoned
    anchor_pull: Reckoned
    anchor_shear: Reckoned

    @property
    def stands_alone(self) -> bool:
        """Whether this screening asks for nothing more than its own weight."""
        return self.ballast.value <= 0

    @property
    def height_m(self) -> float:
        """Above the foot, where all of the force turns it as its strips do [m]."""
        return self.overturning.value / self.force.value

    @property
    def workings(self) -> tuple[Reckoned, ...]:
        """In the order in which they are worked."""
        return (
            *(self.forces if len(self.forces) > 1 else ()),
            *(self.force, self.overturning, self.righting, self.turning, self.sliding),
            *(self.ballast, self.anchor_pull, self.anchor_shear),
        )


def stance(face: Face, mass: Term, factors: Factors) -> Stance:
    """How a piece stands with the wind on one face.

    Parameters
    ----------
    face : Face
    mass : Term
        Of the piece with its base [kg].
    factors : Factors

    Returns
    -------
    Stance

    Raises
    ------
    OutOfRange
        For a mass that is none, or no wind at all.

    References
    ----------
    EN 1990, equilibrium: 0.9 × what rests against 1.5 × what turns; friction against 1.5 × the force. Ballast is
    taken as lying over the middle of the base, where it holds with the same arm as the piece.
    """
    within("Mass of the piece", mass.value, "kg", 0.1, 1_000_000)
    gravity = Term("gravity", GRAVITY_M_S2, "m/s^2", "by definition")
    on = f"wind on the {face.name}"
    forces = tuple(
        product(_force_name(number, len(face.pushes), on), "N", [push.pressure, face.coefficient, push.area])
        for number, push in enumerate(face.pushes, start=1)
    )
    force = forces[0] if len(forces) == 1 else summed(f"force, {on}", "N", [each.term for each in forces])
    overturning = _overturning(face.pushes, forces, on)
    righting = product(f"moment of its own weight, {on}", "N*m", [mass, gravity, face.arm])
    held = product("friction", "N", [mass, gravity, factors.friction])
    pull_nm = factors.wind.value * overturning.value - factors.weight.value * righting.value
    pull = Reckoned(
        f"pull on the anchors of the windward edge, {on}",
        max(0.0, pull_nm / face.base.value) / 1000,
        "kN",
        f"({factors.wind.label} × {overturning.name} − {factors.weight.label} × {righting.name}) ÷ {face.base.label}",
        (factors.wind, overturning.term, factors.weight, righting.term, face.base),
    )
    return Stance(
        face=face,
        forces=forces,
        force=force,
        overturning=overturning,
        righting=righting,
        turning=_ratio(f"rest over turning, {on}", righting, overturning),
        sliding=_ratio(f"friction over force, {on}", held, force),
        ballast=_ballast(face, force, overturning, righting, mass, factors, gravity),
        anchor_pull=pull,
        anchor_shear=product(f"shear on all anchors, {on}", "kN", [factors.wind, force.term, _KN_TO_A_N]),
    )


def _force_name(number: int, strips: int, on: str) -> str:
    return f"force, {on}" if strips == 1 else f"force on strip {number} of {strips}, {on}"


def _overturning(pushes: Sequence[Push], forces: Sequence[Reckoned], on: str) -> Reckoned:
    """Every strip's force times the height of its middle."""
    pairs = [(force.term, push.middle) for force, push in zip(forces, pushes, strict=True)]
    value = math.fsum(force.value * middle.value for force, middle in pairs)
    words = " + ".join(f"{force.label} × {middle.label}" for force, middle in pairs)
    return Reckoned(f"overturning moment, {on}", value, "N*m", words, tuple(term for pair in pairs for term in pair))


def _ratio(name: str, holds: Reckoned, drives: Reckoned) -> Reckoned:
    if drives.value <= 0:
        raise OutOfRange("Force of the wind", drives.value, "N", 1e-9, hint="Without wind there is nothing to screen.")
    return product(name, "", [holds.term], [drives.term])


def turning_ballast_kg(overturning_nm: float, righting_nm: float, arm_m: float, wind: float, weight: float) -> float:
    """Ballast against turning over, with the arm of the piece itself.

    Parameters
    ----------
    overturning_nm, righting_nm : float
        Moments [N*m].
    arm_m : float
        From the ballast to the edge of the base [m].
    wind, weight : float
        Partial factors [dimensionless].

    Returns
    -------
    float
        Below nothing where none is needed [kg].

    References
    ----------
    EN 1990, equilibrium: (1.5 M − 0.9 R) ÷ (0.9 g a).
    """
    return (wind * overturning_nm - weight * righting_nm) / (weight * GRAVITY_M_S2 * arm_m)


def _ballast(
    face: Face,
    force: Reckoned,
    overturning: Reckoned,
    righting: Reckoned,
    mass: Term,
    factors: Factors,
    gravity: Term,
) -> Reckoned:
    """The larger of what keeps it from turning and what keeps it from sliding."""
    turning_kg = turning_ballast_kg(
        overturning.value, righting.value, face.arm.value, factors.wind.value, factors.weight.value
    )
    sliding_kg = factors.wind.value * force.value / (factors.friction.value * GRAVITY_M_S2) - mass.value
    if turning_kg >= sliding_kg:
        words = (
            f"({factors.wind.label} × {overturning.name} − {factors.weight.label} × {righting.name}) "
            f"÷ ({factors.weight.label} × gravity × {face.arm.label})"
        )
        turns = (factors.wind, overturning.term, factors.weight, righting.term, gravity, face.arm)
        return Reckoned(
            f"ballast against turning over, wind on the {face.name}", max(0.0, turning_kg), "kg", words, turns
        )
    words = f"{factors.wind.label} × {force.name} ÷ ({factors.friction.label} × gravity) − {mass.label}"
    slides = (factors.wind, force.term, factors.friction, gravity, mass)
    return Reckoned(f"ballast against sliding, wind on the {face.name}", max(0.0, sliding_kg), "kg", words, slides)
