"""Flat plates by small-deflection theory, Poisson's ratio 0.3: stress and deflection by edge and by load.

Held-down edges only are asked about: simply supported or clamped all round.
Under pressure q a plate of short side b and thickness t has
stress = beta q b²/t² and deflection = alpha q b⁴/(E t³). Simply supported
plates are worked by Lévy's series (Timoshenko and Woinowsky-Krieger, Theory of
Plates and Shells, art. 30), clamped ones and loads on a small patch by the
tables of Roark's Formulas for Stress and Strain, Table 11.4, cases 1b, 8a and
8b, from memory.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from materials.estimator.ranges import one_of, within

EDGES = ("supported", "clamped")
POISSON = 0.3

# D = E t³ / 12 (1 − nu²), so a coefficient of 1/D becomes one of 1/(E t³) by this.
_TO_E = 12 * (1 - POISSON**2)
_TERMS = 60

_RATIOS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0)
# The last value of each is that of an endless strip.
_CLAMPED_EDGE = (0.3078, 0.3834, 0.4356, 0.4680, 0.4872, 0.4974, 0.5000)
_CLAMPED_MIDDLE = (0.1386, 0.1794, 0.2094, 0.2286, 0.2406, 0.2472, 0.2500)
_CLAMPED_DEFLECTION = (0.0138, 0.0188, 0.0226, 0.0251, 0.0267, 0.0277, 0.0284)
_PATCH_STRESS = {
    "supported": (0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000),
    "clamped": (-0.238, -0.078, 0.011, 0.053, 0.068, 0.067, 0.067),
}
_PATCH_EDGE = (0.7542, 0.8940, 0.9624, 0.9906, 1.000, 1.004, 1.008)
_PATCH_DEFLECTION = {
    "supported": (0.1267, 0.1478, 0.1621, 0.1715, 0.1770, 0.1805, 0.1851),
    "clamped": (0.0611, 0.0706, 0.0754, 0.0777, 0.0786, 0.0788, 0.0791),
}


@dataclass(frozen=True, slots=True)
class Plate:
    """A flat rectangular panel.

    Attributes
    ----------
    long_m, short_m : float
        Its sides [m].
    thickness_mm : float
        [mm]
    modulus_mpa : float
        In-plane modulus of the laminate [N/mm^2].
    """

    long_m: float
    short_m: float
    thickness_mm: float
    modulus_mpa: float

    def __post_init__(self) -> None:
        within("Short side of the panel", self.short_m, "m", 0.02, 20)
        within("Long side of the panel", self.long_m, "m", self.short_m, 100, "Give the longer side as the long one.")
        within("Thickness of the panel", self.thickness_mm, "mm", 0.2, 200)
        within("Modulus of the laminate", self.modulus_mpa, "N/mm²", 500, 100_000)


@dataclass(frozen=True, slots=True)
class Bent:
    """What a load does to a plate: greatest stress [N/mm^2] and deflection by linear theory [mm]."""

    stress_mpa: float
    deflection_mm: float


def under_pressure(plate: Plate, pressure_pa: float, edges: str) -> Bent:
    """A plate under an even pressure.

    Parameters
    ----------
    plate : Plate
    pressure_pa : float
        [Pa]
    edges : str
        "supported" or "clamped".

    Returns
    -------
    Bent

    Raises
    ------
    OutOfRange
        For a pressure below nothing or beyond any wind.
    UnknownChoice
        For other edges.
    """
    within("Pressure", pressure_pa, "Pa", 0, 50_000)
    beta, alpha = pressure_coefficients(plate.long_m / plate.short_m, edges)
    q, b, t = pressure_pa * 1e-6, plate.short_m * 1000, plate.thickness_mm
    return Bent(beta * q * b**2 / t**2, alpha * q * b**4 / (plate.modulus_mpa * t**3))


def under_push(plate: Plate, push_n: float, palm_m: float, edges: str) -> Bent:
    """A plate pushed at its middle over a round patch.

    Parameters
    ----------
    plate : Plate
    push_n : float
        [N]
    palm_m : float
        Radius of the patch [m].
    edges : str
        "supported" or "clamped".

    Returns
    -------
    Bent

    Raises
    ------
    OutOfRange
        For a push below nothing or beyond any hand, or a patch that is none.
    UnknownChoice
        For other edges.

    References
    ----------
    Roark, Table 11.4, cases 1b and 8b, from memory.
    """
    one_of("Edges", edges, EDGES)
    within("Push", push_n, "N", 0, 20_000)
    within("Radius of the palm", palm_m, "m", 0.005, plate.short_m / 2)
    ratio, t, b, r = plate.long_m / plate.short_m, plate.thickness_mm, plate.short_m * 1000, palm_m * 1000
    if r < t / 2:
        r = math.sqrt(1.6 * r**2 + t**2) - 0.675 * t
    spread = (1 + POISSON) * math.log(2 * b / (math.pi * r)) + _read(_PATCH_STRESS[edges], ratio)
    stress = 3 * push_n / (2 * math.pi * t**2) * spread
    if edges == "clamped":
        stress = max(stress, _read(_PATCH_EDGE, ratio) * push_n / t**2)
    deflection = _read(_PATCH_DEFLECTION[edges], ratio) * push_n * b**2 / (plate.modulus_mpa * t**3)
    return Bent(stress, deflection)


def pressure_coefficients(ratio: float, edges: str) -> tuple[float, float]:
    """Stress and deflection coefficients under pressure, of the short side.

    Parameters
    ----------
    ratio : float
        Long side over short side [dimensionless].
    edges : str
        "supported" or "clamped".

    Returns
    -------
    tuple of (float, float)
        beta and alpha as at the head of this file [dimensionless].

    Raises
    ------
    OutOfRange
        For a ratio below 1.
    UnknownChoice
        For other edges.
    """
    one_of("Edges", edges, EDGES)
    within("Long side over short side", ratio, "", 1, 5000)
    if edges == "clamped":
        return _read(_CLAMPED_EDGE, ratio), _read(_CLAMPED_DEFLECTION, ratio)
    return 6 * _supported_moment(ratio), _TO_E * supported_deflection(ratio)


def clamped_middle(ratio: float) -> float:
    """Stress coefficient at the middle of a clamped plate under pressure.

    Parameters
    ----------
    ratio : float
        Long side over short side [dimensionless].

    Returns
    -------
    float
        [dimensionless]; Roark, Table 11.4, case 8a, from memory.
    """
    return _read(_CLAMPED_MIDDLE, ratio)


def supported_deflection(ratio: float) -> float:
    """Deflection at the middle of a simply supported plate, times D over q b⁴.

    Parameters
    ----------
    ratio : float
        Long side over short side [dimensionless].

    Returns
    -------
    float
        [dimensionless]; Lévy's series, Timoshenko and Woinowsky-Krieger, art. 30.
    """
    total = 0.0
    for m in range(1, 2 * _TERMS, 2):
        half = m * math.pi * ratio / 2
        total += _sign(m) / m**5 * (1 - (half * math.tanh(half) + 2) * _sech(half) / 2)
    return 4 / math.pi**5 * total


def _supported_moment(ratio: float) -> float:
    """Moment across the short side at the middle, over q b²."""
    total = 0.0
    for m in range(1, 2 * _TERMS, 2):
        half = m * math.pi * ratio / 2
        a = -2 * (half * math.tanh(half) + 2) * _sech(half) / (math.pi**5 * m**5)
        b = 2 * _sech(half) / (math.pi**5 * m**5)
        total += m**2 * (2 * POISSON * b - (1 - POISSON) * a) * _sign(m)
    return 1 / 8 - math.pi**2 * total


def _sign(m: int) -> int:
    return -1 if (m - 1) // 2 % 2 else 1


def _sech(x: float) -> float:
    return 0.0 if x > 700 else 1 / math.cosh(x)


def _read(row: Sequence[float], ratio: float) -> float:
    """Straight between the table's ratios; beyond the last, straight in the inverse towards the endless strip."""
    last = _RATIOS[-1]
    if ratio >= last:
        return row[-1] + (row[-2] - row[-1]) * last / ratio
    above = next(index for index, each in enumerate(_RATIOS) if each > ratio)
    low, high = _RATIOS[above - 1], _RATIOS[above]
    return row[above - 1] + (row[above] - row[above - 1]) * (ratio - low) / (high - low)
