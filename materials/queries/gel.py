"""The gel times of a product, as the estimator takes them."""

from collections.abc import Iterable

from materials.estimator.gel import GelReading, GelTable
from materials.models import GelTime, Item


def readings_of(item: Item) -> tuple[GelReading, ...]:
    """Every entry of an item's table, by temperature and percentage."""
    return tuple(_reading(row) for row in item.gel_times.all())


def gel_table(item: Item) -> GelTable:
    """An item's table; without entries it raises ``Missing``, which says where they are entered."""
    return GelTable(item.name, readings_of(item))


def _reading(row: GelTime) -> GelReading:
    return GelReading(row.temperature_c, row.percent, row.minutes)


def grid_of(readings: Iterable[GelReading]) -> tuple[list[float], list[tuple[float, list[tuple[float, float | None]]]]]:
    """Readings for reading: the percentages, and for each temperature every percentage with its time, if it has one."""
    by_place = {(each.temperature_c, each.percent): each.minutes for each in readings}
    percents = sorted({percent for _, percent in by_place})
    temperatures = sorted({temperature for temperature, _ in by_place})
    rows = [(warm, [(percent, by_place.get((warm, percent))) for percent in percents]) for warm in temperatures]
    return percents, rows
