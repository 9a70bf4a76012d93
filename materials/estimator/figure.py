"""What a human figure measures: an anchor that shows a slipped scale factor.

A measured figure whose skin is out by two against these was measured at the
wrong scale or in the wrong unit more often than it is an unusual figure.
"""

import math
from dataclasses import dataclass

from materials.estimator.shapes.limits import check_between

LIFE_SIZE_M = 1.75
LIFE_MASS_KG = 75.0
BODY_DENSITY_KG_M3 = 1010.0

# Drapery multiplies the skin of the body by so much; common practice, no source.
LEAST_DRAPERY = 1.2
MOST_DRAPERY = 1.6


@dataclass(frozen=True, slots=True)
class FigureArea:
    """Skin of one standing figure.

    Attributes
    ----------
    bare_m2, draped_low_m2, draped_high_m2 : float
        Unclothed, and the range in which a clothed figure lies [m^2].
    """

    bare_m2: float
    draped_low_m2: float
    draped_high_m2: float


def body_surface_m2(height_m: float, mass_kg: float) -> float:
    """Skin of a living body.

    Parameters
    ----------
    height_m : float
        Standing height [m].
    mass_kg : float
        Mass of the body [kg].

    Returns
    -------
    float
        Surface, sqrt(height in cm times mass / 3600) [m^2].

    Raises
    ------
    OutOfRange
        If the height is not between 0.3 and 3 m, or the mass not between 1 and 500 kg.

    References
    ----------
    R. D. Mosteller, 1987, simplified body surface area; from memory.
    """
    check_between("height", height_m, "m", 0.3, 3.0)
    check_between("mass", mass_kg, "kg", 1.0, 500.0)
    return math.sqrt(height_m * 100 * mass_kg / 3600)


def body_volume_m3(mass_kg: float) -> float:
    """Volume of a living body, whose density is a little above that of water.

    Parameters
    ----------
    mass_kg : float
        Mass of the body [kg].

    Returns
    -------
    float
        Mass over 1010 kg/m^3 [m^3]; from memory.

    Raises
    ------
    OutOfRange
        If the mass is not between 1 and 500 kg.
    """
    check_between("mass", mass_kg, "kg", 1.0, 500.0)
    return mass_kg / BODY_DENSITY_KG_M3


def figure_area(height_m: float) -> FigureArea:
    """Skin to expect of a standing figure of any size, scaled from a body of 1.75 m and 75 kg.

    Parameters
    ----------
    height_m : float
        Height of the figure [m].

    Returns
    -------
    FigureArea
        Life size 1.9 m^2 bare, times the square of the scale; drapery 1.2 to 1.6 times
        that, common practice, no source.

    Raises
    ------
    OutOfRange
        If the height is not between 0.05 and 50 m.
    """
    check_between("height", height_m, "m", 0.05, 50.0)
    bare_m2 = body_surface_m2(LIFE_SIZE_M, LIFE_MASS_KG) * (height_m / LIFE_SIZE_M) ** 2
    return FigureArea(bare_m2, bare_m2 * LEAST_DRAPERY, bare_m2 * MOST_DRAPERY)
