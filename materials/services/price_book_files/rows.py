"""One line of a price book file: the columns, a row as text, and text as a row.

There is a line for each price; a pack without a price and an item without a
pack have a line with those columns empty, so that they can be filled in.
"""

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import TypeVar

from materials.models import ItemKind
from materials.models.catalogue import UNITS
from materials.services import allowed
from materials.services.allowed import NotAllowed, quoted
from studio.money import parse_amount, to_decimal

COLUMNS: Mapping[str, str] = {
    "key": "The name that a take-off uses, such as glass_csm_450",
    "name": "What people call it",
    "kind": f"One of {', '.join(ItemKind.values)}",
    "unit": f"What its packs are counted in: {', '.join(unit for unit, _ in UNITS)}",
    "density_kg_m3": "Density in kg/m³, or empty",
    "supplier": "Who sells it, or empty",
    "lead_days": "Days from order to delivery; empty means 0",
    "shelf_life_days": "Days it keeps, or empty where it does not spoil",
    "pack": "What the supplier calls the pack, such as 25 kg drum; empty for an item without packs",
    "pack_quantity": "What the pack holds, in the unit",
    "valid_from": "The day from which the price holds, as 2026-01-31; empty for a pack without a price",
    "price": "What the pack costs before tax, without separators of thousands",
    "currency": "The studio's currency",
}
NUMBERS = ("density_kg_m3", "lead_days", "shelf_life_days", "pack_quantity", "price")
DAYS = ("valid_from",)

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a line cannot be taken: the column, and a sentence that names the value."""

    column: str
    reason: str


class RowRefused(ValueError):
    """A line with at least one fault."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.column}: {fault.reason}" for fault in faults))


@dataclass(frozen=True, slots=True)
class Row:
    """One line, read."""

    key: str
    name: str
    kind: str
    unit: str
    density_kg_m3: Decimal | None = None
    supplier: str = ""
    lead_days: int = 0
    shelf_life_days: int | None = None
    pack: str = ""
    pack_quantity: Decimal | None = None
    valid_from: datetime.date | None = None
    price_minor: int | None = None

    def cells(self, currency: str) -> dict[str, str]:
        """The line as text; ``read_row`` of it is this row again."""
        return {
            "key": self.key,
            "name": self.name,
            "kind": self.kind,
            "unit": self.unit,
            "density_kg_m3": _figures(self.density_kg_m3),
            "supplier": self.supplier,
            "lead_days": str(self.lead_days),
            "shelf_life_days": "" if self.shelf_life_days is None else str(self.shelf_life_days),
            "pack": self.pack,
            "pack_quantity": _figures(self.pack_quantity),
            "valid_from": self.valid_from.isoformat() if self.valid_from else "",
            "price": "" if self.price_minor is None else f"{to_decimal(self.price_minor, currency):f}",
            "currency": currency,
        }


def density_of(value: float | None) -> Decimal | None:
    """A density of the database to the gram, as a file carries it."""
    return None if value is None else Decimal(repr(round(value, 3))).normalize()


def _figures(value: Decimal | None) -> str:
    return "" if value is None else f"{value.normalize():f}"


def read_row(cells: Mapping[str, str], currency: str) -> Row:
    """A line of text as a row.

    Raises ``RowRefused`` with every fault of the line, each with its column and value.
    """
    faults: list[Fault] = []

    def read(column: str, reader: Callable[[str], Value], empty: Value) -> Value:
        text = cells[column].strip()
        if not text:
            return empty
        try:
            return reader(text)
        except ValueError as refusal:
            faults.append(Fault(column, str(refusal)))
            return empty

    row = Row(
        key=read("key", allowed.item_key, ""),
        name=read("name", partial(allowed.line_of_text, most=allowed.NAME), ""),
        kind=read("kind", partial(_one_of, ItemKind.values), ""),
        unit=read("unit", partial(_one_of, [unit for unit, _ in UNITS]), ""),
        density_kg_m3=read("density_kg_m3", lambda text: allowed.density(allowed.plain_number(text)), None),
        supplier=read("supplier", partial(allowed.line_of_text, most=allowed.SUPPLIER), ""),
        lead_days=read("lead_days", partial(allowed.whole_days, most=allowed.MOST_LEAD_DAYS), 0),
        shelf_life_days=read("shelf_life_days", partial(allowed.whole_days, most=allowed.MOST_SHELF_DAYS), None),
        pack=read("pack", partial(allowed.line_of_text, most=allowed.LABEL), ""),
        pack_quantity=read("pack_quantity", lambda text: allowed.pack_quantity(allowed.plain_number(text)), None),
        valid_from=read("valid_from", allowed.iso_day, None),
        price_minor=read("price", lambda text: parse_amount(text, currency), None),
    )
    faults.extend(_gaps(cells, currency))
    if faults:
        raise RowRefused(faults)
    return row


def _gaps(cells: Mapping[str, str], currency: str) -> list[Fault]:
    """What a line lacks for what else it holds."""
    given = {column for column in COLUMNS if cells[column].strip()}
    wanted = {column: f"It is empty; give {COLUMNS[column][:1].lower()}{COLUMNS[column][1:]}." for column in COLUMNS}
    needed = ["key", "name", "kind", "unit"]
    if given & {"pack", "pack_quantity", "valid_from", "price"}:
        needed += ["pack", "pack_quantity"]
    if given & {"valid_from", "price"}:
        needed += ["valid_from", "price", "currency"]
    faults = [Fault(column, wanted[column]) for column in needed if column not in given]
    named = cells["currency"].strip()
    if named and named != currency:
        faults.append(Fault("currency", f"{quoted(named)} is not this studio's currency; give prices in {currency}."))
    return faults


def _one_of(choices: list[str], text: str) -> str:
    if text not in choices:
        raise NotAllowed(f"{quoted(text)} is not known; use one of {', '.join(choices)}.")
    return text
