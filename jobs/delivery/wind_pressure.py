"""How hard the wind presses at a height, by EN 1991-1-4 with its recommended values.

The United Kingdom's National Annex has charts of its own.
"""

import math
from dataclasses import dataclass

from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned, product


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
