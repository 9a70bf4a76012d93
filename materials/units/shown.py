"""What people read: a number with the digits that matter, and its unit."""

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from math import floor, isfinite, log10

from materials.estimator.errors import OutOfRange, UnknownChoice
from materials.units.kinds import Kind, System, rule_of, spelled
from materials.units.registry import convert

SPACE = "\u202f"
"""Narrow no-break space: parts thousands, and keeps a number on one line."""

# For each kind, from the largest down: the least magnitude in the base unit, the unit, its decimals (None: three
# significant figures).
_METRIC: Mapping[Kind, tuple[tuple[float, str, int | None], ...]] = {
    "length": ((1.0, "m", 3), (0.01, "mm", 0), (0.0, "mm", 1)),
    "area": ((0.0, "m2", None),),
    "volume": ((1.0, "m3", None), (0.001, "l", None), (0.0, "ml", None)),
    "mass": ((1.0, "kg", None), (0.0, "g", None)),
    "areal_mass": ((1.0, "kg/m2", None), (0.0, "g/m2", None)),
    "film": ((0.0, "um", None),),
    "density": ((0.0, "kg/m3", None),),
    "force": ((1000.0, "kN", None), (0.0, "N", None)),
    "pressure": ((1e6, "MPa", None), (1000.0, "kPa", None), (0.0, "Pa", None)),
    "time_hours": ((0.0, "h", None),),
}
_US: Mapping[Kind, tuple[tuple[float, str, int | None], ...]] = {
    "length": ((0.0, "in", None),),
    "area": ((0.0, "sq ft", None),),
    "volume": ((0.1, "cu ft", None), (0.001, "US gal", None), (0.0, "US fl oz", None)),
    "mass": ((0.4, "lb", None), (0.0, "oz", None)),
    "areal_mass": ((0.0, "oz/ft2", None),),
    "film": ((0.0, "mil", None),),
    "density": ((0.0, "lb/ft3", None),),
    "force": ((0.0, "lbf", None),),
    "pressure": ((1e5, "psi", None), (0.0, "lbf/ft2", None)),
    "time_hours": ((0.0, "h", None),),
}
_FORM_UNIT: Mapping[System, Mapping[Kind, str]] = {
    "metric": {
        "length": "m",
        "area": "m2",
        "volume": "l",
        "mass": "kg",
        "areal_mass": "g/m2",
        "film": "um",
        "density": "kg/m3",
        "force": "N",
        "pressure": "Pa",
        "time_hours": "h",
    },
    "us": {
        "length": "ft",
        "area": "sq ft",
        "volume": "US gal",
        "mass": "lb",
        "areal_mass": "oz/ft2",
        "film": "mil",
        "density": "lb/ft3",
        "force": "lbf",
        "pressure": "lbf/ft2",
        "time_hours": "h",
    },
}
_LINE_UNIT_US = {
    "kg": "lb",
    "m2": "sq ft",
    "m3": "cu ft",
    "l": "US gal",
    "ml": "US fl oz",
    "m": "ft",
    "mm": "in",
    "um": "mil",
    "kg/m2": "oz/ft2",
    "g/m2": "oz/ft2",
    "kg/m3": "lb/ft3",
    "n": "lbf",
    "kn": "lbf",
    "pa": "lbf/ft2",
    "n/mm2": "psi",
}


def format_number(value: float, decimals: int | None = None) -> str:
    """A number as it is printed.

    Parameters
    ----------
    value : float
        Any finite number [dimensionless].
    decimals : int or None
        Exactly so many decimals; None for the digits that matter: three significant figures, all figures of a
        whole number, no noughts at the end.

    Returns
    -------
    str
        "18.4", "2 600" with a narrow space, "−3.5" with a true minus.

    Raises
    ------
    OutOfRange
        When the value is not finite.
    """
    if not isfinite(value):
        raise OutOfRange("quantity", value, "")
    places = decimals
    if places is None:
        places = 0 if value == 0 else max(0, 2 - floor(log10(abs(value))))
    rounded = Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = f"{abs(rounded):,f}".replace(",", SPACE)
    if decimals is None and "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"−{text}" if rounded < 0 else text


def unit_text(unit: str) -> str:
    """A unit as it is printed.

    Parameters
    ----------
    unit : str
        As a take-off or a working carries it: "m2", "kg/m^2", "um", "each", "".

    Returns
    -------
    str
        "m²", "kg/m²", "µm", "each", "".
    """
    plain = unit.replace("**", "").replace("^", "").replace("*", "·")
    for square in ("m2", "t2", "/s2"):
        plain = plain.replace(square, f"{square[:-1]}²")
    return plain.replace("m3", "m³").replace("t3", "t³").replace("um", "µm")


def unit_label(kind: Kind, system: System) -> str:
    """The unit a form suggests beside a field.

    Parameters
    ----------
    kind : str
        One of ``Kind``.
    system : str
        "metric" or "us".

    Returns
    -------
    str
        "m", "g/m²", "sq ft".

    Raises
    ------
    UnknownChoice
        For any other kind or system.
    """
    rule_of(kind)
    _check(system)
    return unit_text(_FORM_UNIT[system][kind])


def format_quantity(value_si: float, kind: Kind, system: System = "metric", digits: int | None = None) -> str:
    """A quantity with its unit, as a person would write it.

    Parameters
    ----------
    value_si : float
        In the base unit of the kind, as ``parse`` answers.
    kind : str
        One of ``Kind``.
    system : str
        "metric" or "us"; a length in "us" is in feet and inches to the nearest eighth.
    digits : int or None
        Exactly so many decimals; None for the digits that matter.

    Returns
    -------
    str
        "2.6 m", "450 g/m²", "8 ft 6 1/2 in"; the space before the unit does not break.

    Raises
    ------
    OutOfRange
        When the value is not finite.
    UnknownChoice
        For any other kind or system.
    """
    rule = rule_of(kind)
    _check(system)
    if not isfinite(value_si):
        raise OutOfRange("quantity", value_si, rule.base)
    if system == "us" and kind == "length" and digits is None:
        inches = convert(value_si, rule.base, "in")
        if abs(inches) >= 0.125 or inches == 0:
            return _feet_and_inches(inches)
    steps = (_METRIC if system == "metric" else _US)[kind]
    # Rounded first, so that 999.9 g is printed as 1 kg and not as 1 000 g.
    size = float(f"{abs(value_si):.3g}")
    _, unit, decimals = next(step for step in steps if size >= step[0] or size == 0)
    number = convert(value_si, rule.base, unit)
    text = format_number(number, decimals if digits is None else digits)
    if digits is None and decimals and "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{text}\u00a0{unit_text(unit)}"


def display_quantity(value: float, unit: str, system: System = "metric") -> tuple[str, str]:
    """A take-off quantity as the number and the unit of a table.

    Parameters
    ----------
    value : float
        In ``unit``.
    unit : str
        kg, m2, m3, l, ml, m, h or each; a unit with no counterpart in "us" is shown as it is.
    system : str
        "metric" or "us".

    Returns
    -------
    tuple of (str, str)
        Number and unit: ("18.4", "kg").

    Raises
    ------
    OutOfRange
        When the value is not finite.
    UnknownChoice
        For any other system.
    """
    _check(system)
    shown = _LINE_UNIT_US.get(spelled(unit)) if system == "us" else None
    if shown is None:
        return format_number(value), unit_text(unit)
    return format_number(convert(value, unit, shown)), unit_text(shown)


def _check(system: str) -> None:
    if system not in _FORM_UNIT:
        raise UnknownChoice("system of units", system, _FORM_UNIT)


def _feet_and_inches(inches: float) -> str:
    """To the nearest eighth of an inch: a tape's smallest mark that a person reads off at arm's length."""
    eighths = int(Decimal(repr(abs(inches) * 8)).quantize(Decimal(1), ROUND_HALF_UP))
    feet, rest = divmod(eighths, 96)
    whole, part = divmod(rest, 8)
    over, under = part, 8
    while over and over % 2 == 0:
        over, under = over // 2, under // 2
    figures = " ".join(filter(None, (str(whole) if whole or not part else "", f"{over}/{under}" if part else "")))
    texts = [f"{feet:,} ft".replace(",", SPACE)] if feet else []
    if rest or not feet:
        texts.append(f"{figures} in")
    return ("−" if inches < 0 else "") + " ".join(texts).replace(" ", "\u00a0")
