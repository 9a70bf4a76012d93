"""A commission's base as values: what was typed, read the one way."""

from dataclasses import dataclass

from jobs.delivery.fixings import Base, read_bolts, read_legs
from jobs.models import Commission, CommissionBase
from materials.units import parse


@dataclass(frozen=True, slots=True)
class BaseRead:
    """The plate with its holes, its thickness [m] and its mass with legs and fittings [kg]."""

    plate: Base
    thickness_m: float
    mass_kg: float


def base_of(commission: Commission) -> BaseRead | None:
    """The base of a commission, or None where none was entered; raises EstimatorError where it cannot be read."""
    row = CommissionBase.objects.filter(commission=commission).first()
    return read_base(row) if row else None


def read_base(row: CommissionBase) -> BaseRead:
    """A row as values; raises EstimatorError that says which of them is wrong."""
    length_m, width_m = (
        parse(typed, "length", f"{name} of the plate") for name, typed in (("length", row.length), ("width", row.width))
    )
    plate = Base(length_m * 1000, width_m * 1000, read_bolts(row.bolts), read_legs(row.legs))
    thickness_m = parse(row.thickness, "length", "thickness of the plate")
    return BaseRead(plate, thickness_m, parse(row.mass, "mass", "mass of the base"))
