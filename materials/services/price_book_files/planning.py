"""What a file would change, line by line, without changing anything."""

import copy
import datetime
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from materials.services.catalogue import CatalogueError, refuse_another_hour, refuse_another_unit
from materials.services.price_book_files.rows import Row, RowRefused, read_row
from materials.services.price_book_files.writing import price_book_rows
from studio.money import format_minor

State = Literal["new", "changed", "same", "refused"]
ITEM_COLUMNS = ("name", "kind", "unit", "density_kg_m3", "supplier", "lead_days", "shelf_life_days")


@dataclass(slots=True)
class KnownPack:
    """A pack: what it is called, and its prices by day."""

    label: str
    prices: dict[datetime.date, int] = field(default_factory=dict)


@dataclass(slots=True)
class KnownItem:
    """An item: its particulars, and its packs by what they hold."""

    name: str
    kind: str
    unit: str
    density_kg_m3: Decimal | None
    supplier: str
    lead_days: int
    shelf_life_days: int | None
    packs: dict[Decimal, KnownPack] = field(default_factory=dict)


Book = dict[str, KnownItem]


@dataclass(frozen=True, slots=True)
class Outcome:
    """One line: what it would do, in words; ``cells`` is the line itself."""

    line: int
    state: State
    says: tuple[str, ...]
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Plan:
    """All lines, and the price book before and after them."""

    outcomes: tuple[Outcome, ...]
    before: Book
    after: Book

    def of(self, state: State) -> list[Outcome]:
        """The lines in one state."""
        return [outcome for outcome in self.outcomes if outcome.state == state]

    @property
    def new(self) -> list[Outcome]:
        """Lines that add something and change nothing."""
        return self.of("new")

    @property
    def changed(self) -> list[Outcome]:
        """Lines that change something that is there."""
        return self.of("changed")

    @property
    def same(self) -> list[Outcome]:
        """Lines that the price book already says."""
        return self.of("same")

    @property
    def refused(self) -> list[Outcome]:
        """Lines that cannot be taken."""
        return self.of("refused")

    @property
    def digest(self) -> str:
        """A fingerprint of everything the plan says it would do."""
        told = [(outcome.line, outcome.state, outcome.says) for outcome in self.outcomes if outcome.state != "same"]
        return hashlib.sha256(json.dumps(told).encode()).hexdigest()


def known_book() -> Book:
    """The price book as it stands, in one query, so that all of it is of one moment."""
    book: Book = {}
    for row in price_book_rows():
        item = book.setdefault(row.key, KnownItem(**{column: getattr(row, column) for column in ITEM_COLUMNS}))
        if row.pack_quantity is not None:
            pack = item.packs.setdefault(row.pack_quantity.normalize(), KnownPack(row.pack))
            if row.valid_from is not None and row.price_minor is not None:
                pack.prices[row.valid_from] = row.price_minor
    return book


def plan_import(lines: Sequence[tuple[int, Mapping[str, str]]], currency: str) -> Plan:
    """Work out what the lines would do to the price book."""
    before = known_book()
    planner = _Planner(before, currency)
    return Plan(tuple(planner.take(number, cells) for number, cells in lines), before, planner.after)


class _Planner:
    """Takes line after line on to a copy of the price book; a refused line leaves no trace on it."""

    def __init__(self, before: Book, currency: str) -> None:
        self.after = dict(before)
        self.currency = currency
        self._before = before
        self._item_said: dict[str, tuple[int, Row]] = {}
        self._pack_said: dict[tuple[str, Decimal], tuple[int, Row]] = {}
        self._lines: dict[tuple[str, Decimal | None, datetime.date | None], int] = {}

    def take(self, number: int, cells: Mapping[str, str]) -> Outcome:
        try:
            row = read_row(cells, self.currency)
            self._refuse_contradiction(row)
            added, altered = self._changes(row)
        except RowRefused as refusal:
            return Outcome(number, "refused", tuple(f"{f.column}: {f.reason}" for f in refusal.faults), cells)
        except CatalogueError as refusal:
            column = "pack_quantity" if refusal.field == "quantity" else refusal.field
            return Outcome(number, "refused", (f"{column}: {refusal}",), cells)
        self._remember(number, row)
        state: State = "changed" if altered else "new" if added else "same"
        return Outcome(number, state, (*altered, *added), cells)

    def _refuse_contradiction(self, row: Row) -> None:
        """Two lines of one file must not say different things of one item, pack or price."""
        where = (row.key, row.pack_quantity, row.valid_from)
        if where in self._lines:
            raise CatalogueError("key", f"Line {self._lines[where]} is about the same; leave one of them out.")
        if row.key in self._item_said:
            number, said = self._item_said[row.key]
            for column in ITEM_COLUMNS:
                if getattr(said, column) != getattr(row, column):
                    raise CatalogueError(column, f"It differs from line {number}, which is about the same item.")
        if row.pack_quantity is not None and (row.key, row.pack_quantity) in self._pack_said:
            number, said = self._pack_said[row.key, row.pack_quantity]
            if said.pack != row.pack:
                raise CatalogueError("pack", f"It differs from line {number}, which is about a pack of the same size.")

    def _remember(self, number: int, row: Row) -> None:
        self._lines[row.key, row.pack_quantity, row.valid_from] = number
        self._item_said.setdefault(row.key, (number, row))
        if row.pack_quantity is not None:
            self._pack_said.setdefault((row.key, row.pack_quantity), (number, row))

    def _changes(self, row: Row) -> tuple[list[str], list[str]]:
        """What the row adds and what it alters, in words, once it is done on the copy."""
        known = self.after.get(row.key)
        said = {column: getattr(row, column) for column in ITEM_COLUMNS}
        added, altered = [], []
        if known is None:
            known = KnownItem(**said)
            added.append("new item")
        else:
            refuse_another_unit(was=known.unit, now=row.unit, has_packs=bool(known.packs))
            if known is self._before.get(row.key):
                known = copy.deepcopy(known)
            altered += [
                f"{column}: {_worded(getattr(known, column))} becomes {_worded(value)}"
                for column, value in said.items()
                if getattr(known, column) != value
            ]
        if row.pack_quantity is not None:
            fresh = row.pack_quantity not in known.packs
            refuse_another_hour(kind=row.kind, packs=len(known.packs) + fresh)
            pack = known.packs.setdefault(row.pack_quantity, KnownPack(row.pack))
            if fresh:
                added.append(f"new pack: {row.pack}")
            elif pack.label != row.pack:
                altered.append(f"pack: {_worded(pack.label)} becomes {_worded(row.pack)}")
                pack.label = row.pack
            self._price_changes(row, pack, added, altered)
        for column, value in said.items():
            setattr(known, column, value)
        self.after[row.key] = known
        return added, altered

    def _price_changes(self, row: Row, pack: KnownPack, added: list[str], altered: list[str]) -> None:
        if row.valid_from is None or row.price_minor is None:
            return
        now, was = format_minor(row.price_minor, self.currency), pack.prices.get(row.valid_from)
        if was is None:
            added.append(f"new price from {row.valid_from}: {now}")
        elif was != row.price_minor:
            altered.append(f"price from {row.valid_from}: {format_minor(was, self.currency)} becomes {now}")
        pack.prices[row.valid_from] = row.price_minor


def _worded(value: object) -> str:
    if value in (None, ""):
        return "nothing"
    return f"“{value:f}”" if isinstance(value, Decimal) else f"“{value}”"


def particulars(known: KnownItem) -> dict[str, Any]:
    """The columns of an item as the database holds them."""
    density = known.density_kg_m3
    values = {column: getattr(known, column) for column in ITEM_COLUMNS}
    return {**values, "density_kg_m3": None if density is None else float(density)}
