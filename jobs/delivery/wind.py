"""A first look at a piece in the wind: will it turn over, will it slide, what would hold it.

Screening only. Pressure follows EN 1991-1-4 with its recommended values; the
United Kingdom's National Annex has charts of its own. Local funnelling, gusts
round buildings, fatigue, the armature and the fixings are an engineer's work.
"""

import math
from dataclasses import dataclass

from jobs.delivery.crate import GRAVITY_M_S2
from materials.estimator.errors import OutOfRange
from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned, product

_KN_TO_A_N = Term("kilonewtons to a newton", 0.001, "kN/N", "by definition")

SCREENING = (
    "Screening only: not a structural design. A chartered engineer designs base, armature and fixings, "
    "with the ground investigated and the local wind code applied."
)


@dataclass(frozen=True, slots=True)
class Terrain:
    """What the wind has blown over: roughness length, and the height below which the wind is taken as there [m]."""

    key: str
    name: str
    roughness_m: float
    least_height_m: float


# EN 1991-1-4 Table 4.1; categories II to IV and the least heights from memory.
TERRAINS = {
    terrain.key: terrain
    for terrain in (
        Terrain("0", "0: sea or coast open to it", 0.003, 1.0),
        Terrain("I", "I: lakes, flat land without obstacles", 0.01, 1.0),
        Terrain("II", "II: open country, hedges, single buildings", 0.05, 2.0),
        Terrain("III", "III: villages, suburbs, woodland", 0.3, 5.0),
        Terrain("IV", "IV: town, buildings above 15 m", 1.0, 10.0),
    )
}


@dataclass(frozen=True, slots=True)
class Pressure:
    """Peak velocity pressure at one height.

    Attributes
    ----------
    roughness, turbulence : Reckoned
        Roughness factor at that height, and turbulence intensity [dimensionless].
    mean_speed : Reckoned
        [m/s]
    peak : Reckoned
        [Pa]
    """

    roughness: Reckoned
    mean_speed: Reckoned
    turbulence: Reckoned
    peak: Reckoned

    @property
    def workings(self) -> tuple[Reckoned, ...]:
        """In the order in which they are worked."""
        return self.roughness, self.mean_speed, self.turbulence, self.peak


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
    area, height, coefficient : Term
        Shadow [m^2], the height of its middle [m], and force coefficient [dimensionless].
    arm, base : Term
        From the centre of mass to the edge that it would turn over, and the base from edge to edge [m].
    """

    name: str
    area: Term
    height: Term
    coefficient: Term
    arm: Term
    base: Term

    def __post_init__(self) -> None:
        within("Shadow in the wind", self.area.value, "m²", 1e-4, 10_000)
        within("Height of the shadow's middle", self.height.value, "m", 0, 200)
        within("Force coefficient", self.coefficient.value, "", 0.1, 3)
        within(
            "From the centre of mass to the edge of the base",
            self.arm.value,
            "m",
            0.005,
            100,
            "It falls over by itself; enter a wider base.",
        )


@dataclass(frozen=True, slots=True)
class Stance:
    """How a piece stands in the wind on one face.

    Attributes
    ----------
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
    def workings(self) -> tuple[Reckoned, ...]:
        """In the order in which they are worked."""
        return (
            *(self.force, self.overturning, self.righting, self.turning, self.sliding),
            *(self.ballast, self.anchor_pull, self.anchor_shear),
        )


def dynamic_pressure_pa(speed_m_s: float, air_kg_m3: float) -> float:
    """Pressure of a gust: half the density times the speed squared.

    Parameters
    ----------
    speed_m_s : float
        [m/s]
    air_kg_m3 : float
        [kg/m^3]

    Returns
    -------
    float
        [Pa]; with 1.226 kg/m^3 the 0.613 v² of BS 6399-2.

    Raises
    ------
    OutOfRange
        For a wind that does not blow, or air that is none.
    """
    within("Wind speed", speed_m_s, "m/s", 0, 150)
    within("Density of air", air_kg_m3, "kg/m³", 0.8, 1.6)
    return air_kg_m3 / 2 * speed_m_s**2


def basic_speed(mapped: Term, per_metre: Term, altitude: Term) -> Reckoned:
    """The basic wind speed of a place, from the map and its altitude.

    Parameters
    ----------
    mapped, per_metre, altitude : Term
        From the map [m/s], what a metre of altitude adds [1/m], and the ground above the sea [m].

    Returns
    -------
    Reckoned
        [m/s]

    Raises
    ------
    OutOfRange
        For a speed that no code names, or ground that is not land.

    References
    ----------
    UK National Annex to EN 1991-1-4, altitude factor 1 + 0.001 A; from memory.
    """
    within("Basic wind speed", mapped.value, "m/s", 10, 80, "It is the ten-minute mean of the map, not a gust.")
    within("Altitude", altitude.value, "m", -420, 5000)
    within(per_metre.label.capitalize(), per_metre.value, "1/m", 0, 0.005)
    value = mapped.value * (1 + per_metre.value * max(0.0, altitude.value))
    words = f"{mapped.label} × (1 + {per_metre.label} × {altitude.label})"
    return Reckoned("basic wind speed with the altitude", value, "m/s", words, (mapped, per_metre, altitude))


def peak_pressure(basic: Term, terrain: Terrain, height: Term, air: Term) -> Pressure:
    """Peak velocity pressure of EN 1991-1-4, (4.3) to (4.8), on level ground.

    Parameters
    ----------
    basic, height, air : Term
        Basic wind speed [m/s], height above the ground [m], density of air [kg/m^3].
    terrain : Terrain

    Returns
    -------
    Pressure

    Raises
    ------
    OutOfRange
        For a height above 200 m, where the formula ends, or values that are none.

    References
    ----------
    EN 1991-1-4: kr = 0.19 (z0/0.05)^0.07; cr = kr ln(z/z0); vm = cr vb; Iv = 1/ln(z/z0);
    qp = (1 + 7 Iv) × ½ ρ vm².
    """
    within("Height above the ground", height.value, "m", 0.01, 200)
    within("Basic wind speed", basic.value, "m/s", 0.001, 150)
    within("Density of air", air.value, "kg/m³", 0.8, 1.6)
    reckoned_m = max(height.value, terrain.least_height_m)
    origin = f"terrain {terrain.key}, EN 1991-1-4 Table 4.1"
    z0 = Term("roughness length", terrain.roughness_m, "m", origin)
    z = Term(
        "height reckoned with",
        reckoned_m,
        "m",
        height.origin if reckoned_m == height.value else f"the least that terrain {terrain.key} allows",
    )
    kr = Term("terrain factor", terrain_factor(terrain.roughness_m), "", "0.19 × (roughness length ÷ 0.05 m)^0.07")
    steep = math.log(reckoned_m / terrain.roughness_m)
    roughness = Reckoned(
        "roughness factor",
        kr.value * steep,
        "",
        "terrain factor × ln(height reckoned with ÷ roughness length)",
        (kr, z, z0),
    )
    mean = product("mean wind speed", "m/s", [roughness.term, basic])
    turbulence = Reckoned("turbulence", 1 / steep, "", "1 ÷ ln(height reckoned with ÷ roughness length)", (z, z0))
    peak = Reckoned(
        "peak pressure of the wind",
        (1 + 7 * turbulence.value) * dynamic_pressure_pa(mean.value, air.value),
        "Pa",
        f"(1 + 7 × turbulence) × ½ × {air.label} × mean wind speed²",
        (turbulence.term, air, mean.term),
    )
    return Pressure(roughness, mean, turbulence, peak)


def terrain_factor(roughness_m: float) -> float:
    """Terrain factor kr of EN 1991-1-4 (4.5).

    Parameters
    ----------
    roughness_m : float
        Roughness length [m].

    Returns
    -------
    float
        [dimensionless]
    """
    return 0.19 * math.pow(roughness_m / 0.05, 0.07)


def stance(face: Face, pressure: Term, mass: Term, factors: Factors) -> Stance:
    """How a piece stands with the wind on one face.

    Parameters
    ----------
    face : Face
    pressure, mass : Term
        Of the wind [Pa], and of the piece with its base [kg].
    factors : Factors

    Returns
    -------
    Stance

    Raises
    ------
    OutOfRange
        For a mass that is none, or a pressure below nothing.

    References
    ----------
    EN 1990, equilibrium: 0.9 × what rests against 1.5 × what turns; friction against 1.5 × the force. Ballast is
    taken as lying over the middle of the base, where it holds with the same arm as the piece.
    """
    within("Mass of the piece", mass.value, "kg", 0.1, 1_000_000)
    within("Pressure of the wind", pressure.value, "Pa", 0, 20_000)
    gravity = Term("gravity", GRAVITY_M_S2, "m/s^2", "by definition")
    on = f"wind on the {face.name}"
    force = product(f"force, {on}", "N", [pressure, face.coefficient, face.area])
    overturning = product(f"overturning moment, {on}", "N*m", [force.term, face.height])
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
        force=force,
        overturning=overturning,
        righting=righting,
        turning=_ratio(f"rest over turning, {on}", righting, overturning),
        sliding=_ratio(f"friction over force, {on}", held, force),
        ballast=_ballast(face, force, overturning, righting, mass, factors, gravity),
        anchor_pull=pull,
        anchor_shear=product(f"shear on all anchors, {on}", "kN", [factors.wind, force.term, _KN_TO_A_N]),
    )


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
