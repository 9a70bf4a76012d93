"""A quantity of an item as people type it: "25 kg", "850 g", or the bare number in the item's own unit."""

import re
from collections.abc import Mapping
from decimal import Decimal

from materials.estimator.errors import EstimatorError
from materials.units import Kind, convert, parse
from studio.money import exact

MEASURED: Mapping[str, tuple[Kind, str]] = {
    "kg": ("mass", "kg"),
    "m2": ("area", "m2"),
    "m3": ("volume", "m3"),
    "l": ("volume", "m3"),
    "ml": ("volume", "m3"),
    "m": ("length", "m"),
}
"""For each unit of an item, the kind of quantity that is typed, and the unit it is read in."""

DIGITS = 4
MOST = Decimal(1_000_000)
NAME = "The quantity"
_BARE = re.compile(r"[0-9]{1,12}(?:[.,][0-9]{1,9})?")
_COUNTED = re.compile(r"([0-9]{1,7}) *(?:each|pieces)?")


def read_amount(text: str, unit: str, *, allow_zero: bool = False) -> Decimal:
    """Read a quantity of an item.

    Parameters
    ----------
    text : str
        With a unit of the same kind, or a bare number in the item's unit.
    unit : str
        The item's unit: kg, m2, m3, l, ml, m or each.
    allow_zero : bool
        Whether nought may be given, as a count may.

    Returns
    -------
    Decimal
        In the item's unit, to ``DIGITS`` digits after the point.

    Raises
    ------
    EstimatorError
        When it is no quantity of that kind, is nought, or is beyond ``MOST``.

    Notes
    -----
    Units by definition; the bounds are common practice, no source.
    """
    typed = text.strip()
    if unit in MEASURED:
        kind, read_in = MEASURED[unit]
        with_unit = f"{typed} {unit}" if _BARE.fullmatch(typed) else typed
        amount = round(exact(convert(parse(with_unit, kind, NAME, allow_zero=allow_zero), read_in, unit)), DIGITS)
    else:
        whole = _COUNTED.fullmatch(typed)
        if not whole:
            raise EstimatorError(NAME, text, f"“{typed[:40]}” is not a count; give a whole number, such as 12.")
        amount = Decimal(whole[1])
    least = Decimal(0) if allow_zero else Decimal(1).scaleb(-DIGITS)
    if not least <= amount <= MOST:
        raise EstimatorError(NAME, text, f"{NAME} {typed[:40]} is outside {least:f} to {MOST:,f} {unit}; check it.")
    return amount
