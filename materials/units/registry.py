"""The one pint registry: private, made when first asked for, exact in Decimal."""

from decimal import Decimal
from functools import cache
from math import isfinite
from typing import TYPE_CHECKING

from materials.estimator.errors import OutOfRange
from materials.units.kinds import KINDS, QuantityError, spelled

if TYPE_CHECKING:
    import pint

_SPELLINGS = {spelling: unit for rule in KINDS.values() for spelling, unit in rule.units.items()}


@cache
def _registry() -> "pint.UnitRegistry[Decimal]":
    # Not at the top: pint brings scipy with it, and starting up should not wait for either.
    import pint

    return pint.UnitRegistry(non_int_type=Decimal)


@cache
def factor(unit: str, base: str) -> Decimal:
    """How many ``base`` are in one ``unit``.

    Parameters
    ----------
    unit, base : str
        Units of the allow-list as pint reads them; never text that was typed.

    Returns
    -------
    Decimal
        Exact where the definition is a finite decimal [dimensionless].

    Raises
    ------
    pint.DimensionalityError
        When the two do not measure the same thing.
    """
    return Decimal(_registry().Quantity(Decimal(1), unit).to(base).magnitude)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """A number in another unit of the allow-list.

    Parameters
    ----------
    value : float
        In ``from_unit``.
    from_unit, to_unit : str
        Any spelling that a form takes ("g/m2", "sq ft", "US gal").

    Returns
    -------
    float
        In ``to_unit``.

    Raises
    ------
    OutOfRange
        When the value is not finite.
    QuantityError
        For a unit that is not on the list, or two units of different kinds.
    """
    if not isfinite(value):
        raise OutOfRange("quantity", value, "")
    for unit in (from_unit, to_unit):
        if spelled(unit) not in _SPELLINGS:
            raise QuantityError(
                "unit", unit, f"unit {unit!r} is not known; use a unit that the forms take, such as kg."
            )
    from pint import DimensionalityError

    try:
        ratio = factor(_SPELLINGS[spelled(from_unit)], _SPELLINGS[spelled(to_unit)])
    except DimensionalityError:
        message = f"{from_unit} cannot be turned into {to_unit}; they measure different things."
        raise QuantityError("unit", from_unit, message) from None
    return float(Decimal(repr(float(value))) * ratio)
