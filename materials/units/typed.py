"""What people type: one number in one of a few forms, then one unit of an allow-list.

The rules, in the order they are tried:

- figures are 0 to 9; a quantity has no sign, no exponent and at most 40 characters;
- a lone point, or a lone comma, is the decimal sign;
- spaces (plain, no-break, thin) part thousands, in groups of exactly three;
- of a comma and a point together, the last is the decimal sign; two or more commas, or points, part thousands;
- a lone comma between one to three figures and exactly three (1,200) can mean either, and is refused;
- a fraction stands alone or after a whole number: 1/2, 1 1/2, 1-1/2, 1½;
- feet and inches, hours and minutes, may be given together.
"""

import re
from decimal import Decimal

from materials.estimator.errors import OutOfRange
from materials.units.kinds import Kind, KindRule, QuantityError, rule_of, spelled
from materials.units.registry import factor

LONGEST = 40

_SPACES = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " "})
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}

_POINT_OR_COMMA = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+")
_BY_SPACES = re.compile(r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:[.,][0-9]+)?")
_BY_COMMAS = re.compile(r"[1-9][0-9]{0,2}(?:(?:,[0-9]{3})+\.[0-9]+|(?:,[0-9]{3}){2,})")
_BY_POINTS = re.compile(r"[1-9][0-9]{0,2}(?:(?:\.[0-9]{3})+,[0-9]+|(?:\.[0-9]{3}){2,})")
_EITHER = re.compile(r"([1-9][0-9]{0,2}),([0-9]{3})")
_FRACTION = re.compile(r"(?:([0-9]+)[ -])?([0-9]{1,2})/([0-9]{1,2})")

_NUMBER_THEN_UNIT = re.compile(r"([0-9.,][0-9 .,/-]*)(.*)")
_FEET_INCHES = re.compile(
    r"([0-9]+) ?(ft|foot|feet|['′’])(?: - |[ -])?([0-9][0-9 .,/-]*?) ?(in|inch|inches|\"|″|”|''|′′)?", re.IGNORECASE
)
_HOURS_MINUTES = re.compile(r"([0-9]+) ?(?:h|hr|hrs|hour|hours) ?([0-9]{1,2}) ?(?:min|mins|minutes)?", re.IGNORECASE)


def parse(text: str, kind: Kind, name: str = "quantity", *, allow_zero: bool = False) -> float:
    """Read a quantity as a person types it.

    Parameters
    ----------
    text : str
        "2.6 m", "2 600 mm", "8' 6 1/2\"", "450 gsm".
    kind : str
        "length" [m], "area" [m^2], "volume" [m^3], "mass" [kg], "areal_mass" [kg/m^2], "film" [um],
        "density" [kg/m^3] or "time_hours" [h].
    name : str
        What it is, in the user's words, for the error.
    allow_zero : bool
        Whether nothing is an answer.

    Returns
    -------
    float
        In the unit named beside the kind.

    Raises
    ------
    QuantityError
        When the text does not follow the grammar, or its unit is not of this kind.
    OutOfRange
        When the quantity is larger than the work could be.
    """
    rule = rule_of(kind)
    typed = _plain(text, rule, name)
    value = _together(typed, kind, rule, name)
    if value is None:
        number, unit = _number_and_unit(typed, rule, name)
        value = number * factor(unit, _base(rule))
    if value == 0 and not allow_zero:
        raise QuantityError(
            name, text, f"{name} is “{typed}”; it must be more than nothing, for example {rule.example}."
        )
    if value > Decimal(str(rule.most)):
        raise OutOfRange(name, float(value), rule.base, high=rule.most, hint="Check the unit.")
    return float(value)


def _plain(text: str, rule: KindRule, name: str) -> str:
    """The text with one kind of space and plain fractions; refuses what no form begins with."""
    wanted = f"type {rule.noun} such as {rule.example}."
    typed = text.translate(_SPACES).strip(" ")
    if not typed:
        raise QuantityError(name, text, f"{name} is empty; {wanted}")
    if len(typed) > LONGEST:
        raise QuantityError(name, text, f"{name} has {len(typed)} characters, and {LONGEST} are allowed; {wanted}")
    if any(sign.isdecimal() and not sign.isascii() for sign in typed):
        raise QuantityError(name, text, f"{name} “{_shown(typed)}” has figures other than 0 to 9; {wanted}")
    if typed[0] in "+-−–":
        raise QuantityError(name, text, f"{name} “{_shown(typed)}” begins with a sign, and none is needed; {wanted}")
    if re.search(r"[0-9]e[+-]?[0-9]", typed, re.IGNORECASE):
        raise QuantityError(name, text, f"{name} “{_shown(typed)}” has an exponent; write the number out in full.")
    return re.sub(f" ?([{''.join(_VULGAR)}])", lambda found: " " + _VULGAR[found[1]], typed).strip(" ")


def _together(typed: str, kind: Kind, rule: KindRule, name: str) -> Decimal | None:
    """Feet with inches, or hours with minutes, in the base unit; None when it is neither."""
    if kind == "length" and (found := _FEET_INCHES.fullmatch(typed)):
        feet, foot_sign, inches, inch_sign = found.groups()
        # "8 ft2" is an area, so after the word "ft" the inches must be named.
        if inch_sign or foot_sign in "'′’":
            part = _number(inches, rule, name)
            if part >= 12:
                raise QuantityError(name, typed, f"{name} “{typed}” has {inches} inches over; use fewer than 12.")
            return Decimal(feet) * factor("foot", _base(rule)) + part * factor("inch", _base(rule))
    if kind == "time_hours" and (found := _HOURS_MINUTES.fullmatch(typed)):
        hours, minutes = Decimal(found[1]), Decimal(found[2])
        if minutes >= 60:
            raise QuantityError(name, typed, f"{name} “{typed}” has {minutes} minutes over; use fewer than 60.")
        return hours + minutes * factor("minute", _base(rule))
    return None


def _number_and_unit(typed: str, rule: KindRule, name: str) -> tuple[Decimal, str]:
    """The number as typed and its unit as pint reads it."""
    found = _NUMBER_THEN_UNIT.fullmatch(typed)
    if found is None:
        message = f"{name} “{_shown(typed)}” is not {rule.noun}; type a number and a unit, such as {rule.example}."
        raise QuantityError(name, typed, message)
    number = _number(found[1].strip(" "), rule, name)
    unit = spelled(found[2])
    if not unit:
        raise QuantityError(name, typed, f"{name} “{typed}” has no unit; add {rule.advice}, such as {rule.example}.")
    if unit not in rule.units:
        message = f"{name} “{_shown(typed)}” is not {rule.noun} with a unit used here; use {rule.advice}."
        raise QuantityError(name, typed, message)
    return number, rule.units[unit]


def _number(typed: str, rule: KindRule, name: str) -> Decimal:
    """The number by the rules at the head of this file."""
    if _BY_SPACES.fullmatch(typed):
        return Decimal(typed.replace(" ", "").replace(",", "."))
    if _BY_COMMAS.fullmatch(typed):
        return Decimal(typed.replace(",", ""))
    if _BY_POINTS.fullmatch(typed):
        return Decimal(typed.replace(".", "").replace(",", "."))
    if found := _EITHER.fullmatch(typed):
        whole, rest = found.groups()
        small = f"{Decimal(f'{whole}.{rest}').normalize():f}"
        message = f"{name} “{typed}” can be read two ways; type {whole}{rest} or {small}, whichever is meant."
        raise QuantityError(name, typed, message)
    if _POINT_OR_COMMA.fullmatch(typed):
        return Decimal(typed.replace(",", "."))
    if (found := _FRACTION.fullmatch(typed)) and int(found[3]):
        whole, over, under = (int(part or 0) for part in found.groups())
        if not (found[1] and over >= under):
            return whole + Decimal(over) / Decimal(under)
    raise QuantityError(
        name, typed, f"{name} “{_shown(typed)}” is not a number; type {rule.noun} such as {rule.example}."
    )


def _base(rule: KindRule) -> str:
    return rule.units[spelled(rule.base)]


def _shown(typed: str) -> str:
    """What was typed, fit to be printed in a sentence."""
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in typed)
