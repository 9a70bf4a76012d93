"""The kinds of quantity people type, and the spellings of the units allowed for each."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from materials.estimator.errors import EstimatorError, UnknownChoice

Kind = Literal["length", "area", "volume", "mass", "areal_mass", "film", "density", "force", "pressure", "time_hours"]
System = Literal["metric", "us"]


class QuantityError(EstimatorError):
    """Text that is not a quantity by the grammar, or a unit that is not on the list."""


@dataclass(frozen=True, slots=True)
class KindRule:
    """What may be typed for one kind.

    Attributes
    ----------
    noun : str
        The kind with its article, as an error names it ("a length").
    base : str
        The unit that ``parse`` answers in; ``spelled``, it is one of ``units``.
    most : float
        The largest magnitude taken, in ``base``; beyond it a slip of the unit is likelier than the work.
    example : str
        Something that is accepted.
    advice : str
        The units an error names.
    units : Mapping of str to str
        Spelling, normalised by ``spelled``, to the unit as pint reads it.
    """

    noun: str
    base: str
    most: float
    example: str
    advice: str
    units: Mapping[str, str]


def spelled(unit: str) -> str:
    """A unit's spelling with case, powers and spaces made alike.

    Parameters
    ----------
    unit : str
        "g / m²", "G/m^2", "Sq Ft".

    Returns
    -------
    str
        "g/m2", "g/m2", "sq ft".
    """
    plain = unit.strip().casefold().replace("²", "2").replace("³", "3").replace("^", "")
    return re.sub(r" *([/]) *", r"\1", plain)


def _units(*rows: str) -> dict[str, str]:
    """Each row is "pint unit: spelling, spelling"; the spellings are normalised as typed text will be."""
    found: dict[str, str] = {}
    for row in rows:
        unit, spellings = row.split(": ")
        found.update({spelled(spelling): unit for spelling in spellings.split(", ")})
    return found


_LENGTH = _units(
    "millimeter: mm, millimetre, millimetres, millimeter, millimeters",
    "centimeter: cm, centimetre, centimetres, centimeter, centimeters",
    "meter: m, metre, metres, meter, meters",
    "inch: in, inch, inches, \", ″, ”, '', ′′",
    "foot: ft, foot, feet, ', ′, ’",
    "yard: yd, yard, yards",
)
_AREA = _units(
    "centimeter**2: cm2, sq cm",
    "meter**2: m2, sq m, sqm",
    "inch**2: in2, sq in",
    "foot**2: ft2, sq ft, sqft",
    "yard**2: yd2, sq yd",
)
# A bare "gal" or "fl oz" is left out: the United States and the imperial measures differ by a fifth.
_VOLUME = _units(
    "meter**3: m3, cu m",
    "centimeter**3: cm3, cc",
    "liter: l, litre, litres, liter, liters",
    "milliliter: ml, millilitre, millilitres, milliliter, milliliters",
    "gallon: US gal",
    "quart: US qt",
    "fluid_ounce: US fl oz",
    "imperial_gallon: imp gal, UK gal",
    "foot**3: ft3, cu ft",
)
_MASS = _units(
    "gram: g, gram, grams",
    "kilogram: kg, kilo, kilos, kilogram, kilograms",
    "metric_ton: t, tonne, tonnes",
    "pound: lb, lbs, pound, pounds",
    "ounce: oz, ounce, ounces",
)
_AREAL_MASS = _units(
    "gram/meter**2: g/m2, gsm, g/sq m",
    "kilogram/meter**2: kg/m2, kg/sq m",
    "ounce/foot**2: oz/ft2, oz/sq ft",
    "ounce/yard**2: oz/yd2, oz/sq yd",
    "pound/foot**2: lb/ft2, lb/sq ft",
)
_FILM = _units("micrometer: um, µm, micron, microns", "millimeter: mm", "thou: mil, mils, thou")
_DENSITY = _units(
    "kilogram/meter**3: kg/m3",
    "gram/centimeter**3: g/cm3, g/cc, g/ml, kg/l",
    "pound/foot**3: lb/ft3, lb/cu ft, pcf",
)
_FORCE = _units("newton: N, newton, newtons", "kilonewton: kN", "pound_force: lbf")
_PRESSURE = _units(
    "pascal: Pa, N/m2",
    "kilopascal: kPa, kN/m2",
    "megapascal: MPa, N/mm2",
    "pound_force/foot**2: lbf/ft2, psf",
    "pound_force/inch**2: lbf/in2, psi",
)
_TIME = _units("hour: h, hr, hrs, hour, hours", "minute: min, mins, minute, minutes")

KINDS: Mapping[Kind, KindRule] = {
    "length": KindRule("a length", "m", 200, "2.6 m", "mm, cm, m, in or ft", _LENGTH),
    "area": KindRule("an area", "m2", 20_000, "3.2 m2", "cm2, m2, sq in or sq ft", _AREA),
    "volume": KindRule("a volume", "m3", 20_000, "12 l", "ml, l, m3, US gal, imp gal or cu ft", _VOLUME),
    "mass": KindRule("a mass", "kg", 200_000, "35 kg", "g, kg, t, oz or lb", _MASS),
    "areal_mass": KindRule(
        "a mass per area",
        "kg/m2",
        200,
        "450 g/m2",
        "g/m2, kg/m2, oz/ft2 (mat) or oz/yd2 (cloth)",
        _AREAL_MASS,
    ),
    "film": KindRule("a film thickness", "um", 20_000, "50 um", "um, mm or mil", _FILM),
    "density": KindRule("a density", "kg/m3", 25_000, "35 kg/m3", "kg/m3, g/cm3, kg/l or lb/ft3", _DENSITY),
    "force": KindRule("a force", "N", 10_000_000, "300 N", "N, kN or lbf", _FORCE),
    "pressure": KindRule("a pressure", "Pa", 1e9, "500 Pa", "Pa, kPa, N/mm2, psf or psi", _PRESSURE),
    "time_hours": KindRule("a time", "h", 100_000, "1.5 h", "h or min", _TIME),
}


def rule_of(kind: str) -> KindRule:
    """The rule of a kind named in code or in a template.

    Parameters
    ----------
    kind : str
        One of ``Kind``.

    Returns
    -------
    KindRule

    Raises
    ------
    UnknownChoice
        For any other word.
    """
    for known, rule in KINDS.items():
        if known == kind:
            return rule
    raise UnknownChoice("kind of quantity", kind, KINDS)
