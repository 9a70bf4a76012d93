"""Gel times of Saltgate Yard's products, as data sheets have them. Invented."""

from materials.estimator.gel import GelReading
from materials.models import Item
from materials.services.gel import change_gel_times
from studio.accounts.models import User

# Minutes at each percentage, from the coldest shop to the warmest.
_PERCENTS = (1.0, 1.5, 2.0, 3.0)
_TABLES: dict[str, dict[int, tuple[float, ...]]] = {
    "laminating_resin": {10: (110, 74, 56, 38), 15: (66, 45, 34, 23), 20: (38, 26, 19, 13), 25: (22, 15, 11, 8)},
    "gel_coat": {12: (70, 46, 34, 24), 15: (50, 33, 25, 17), 20: (27, 18, 14, 9), 25: (15, 10, 8, 6)},
    "tooling_gel_coat": {12: (78, 52, 39, 27), 15: (56, 37, 28, 19), 20: (31, 21, 16, 11), 25: (18, 12, 9, 7)},
    "fairing_filler": {10: (22, 15, 11, 8), 15: (14, 10, 7.5, 5), 20: (9, 6.5, 5, 3.5), 25: (6, 4.5, 3.5, 2.5)},
}

SHEET = "the maker's data sheet"


def enter_gel_times(by: User) -> None:
    """The tables of what is catalysed."""
    for key, rows in _TABLES.items():
        item = Item.objects.get(key=key)
        readings = [
            GelReading(float(warm), percent, float(minutes))
            for warm, times in rows.items()
            for percent, minutes in zip(_PERCENTS, times, strict=True)
        ]
        change_gel_times(by=by, item=item, version=item.version, readings=readings, known_from=SHEET)
