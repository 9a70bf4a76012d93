"""Parts nested on sheets.

Places are found by rectpack's guillotine rules, several of them tried in a
fixed order, so that the same parts always give the same plan; ``cutting`` says
whether a saw can follow. By geometry.
"""

import itertools
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import rectpack
from rectpack import guillotine

from jobs.delivery.cutting import CuttingPlan, Part, SheetPlan, Stock, Taken, area_floor, sawn, tenths
from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.ranges import within

MOST_PARTS = 150
"""Parts in one plan [each]; beyond it the wait grows long, and the work is cut in batches anyway."""

_RULES = (guillotine.GuillotineBssfSas, guillotine.GuillotineBafLas, guillotine.GuillotineBssfMaxas)
_ORDERS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE)


def nest(parts: Sequence[Part], stock: Stock) -> CuttingPlan:
    """The plan with the fewest sheets that these rules find, and of those the one with the largest offcut.

    Parameters
    ----------
    parts : sequence of Part
    stock : Stock

    Returns
    -------
    CuttingPlan

    Raises
    ------
    Missing
        Without parts.
    OutOfRange
        When a part does not go on a sheet, or there are too many for one plan.
    """
    if not parts:
        raise Missing("Parts to cut", "a plan needs one at least.")
    if len(parts) > MOST_PARTS:
        raise OutOfRange("Parts in one plan", len(parts), "", 1, MOST_PARTS, "Plan them in batches.")
    for part in parts:
        _check(part, stock)
    laid_out = (_cut_up(sheets, parts, stock) for sheets in _layouts(parts, stock))
    best = min((layout for layout in laid_out if layout is not None), key=_waste)
    parts_m2 = sum(part.length_m * part.width_m for part in parts)
    return CuttingPlan(stock, _alike(best), parts_m2, area_floor(parts_m2, stock))


def _check(part: Part, stock: Stock) -> None:
    sides = ("long", part.length_m, stock.length_m), ("wide", part.width_m, stock.width_m)
    lies = all(part_m <= stock_m + 1e-9 for _, part_m, stock_m in sides)
    turned = stock.turning and part.length_m <= stock.width_m + 1e-9 and part.width_m <= stock.length_m + 1e-9
    for way, part_m, stock_m in sides:
        within(f"{part.name}, how {way}", part_m, "m", 0.001, None if turned or lies else stock_m)


def _layouts(parts: Sequence[Part], stock: Stock) -> Iterator[list[list[Taken]]]:
    """What each rule makes of the parts. Without merging a layout can always be cut; with it, it is often better."""
    kerf = tenths(stock.kerf_m)
    for rule, order, merge in itertools.product(_RULES, _ORDERS, (False, True)):
        packer = rectpack.newPacker(
            bin_algo=rectpack.PackingBin.BBF, pack_algo=rule, sort_algo=order, rotation=stock.turning
        )
        packer.add_bin(tenths(stock.length_m) + kerf, tenths(stock.width_m) + kerf, count=len(parts), merge=merge)
        for number, part in enumerate(parts):
            packer.add_rect(tenths(part.length_m) + kerf, tenths(part.width_m) + kerf, rid=number)
        packer.pack()
        yield [
            [Taken(each.x, each.y, each.x + each.width, each.y + each.height, each.rid) for each in sheet]
            for sheet in packer
        ]


def _cut_up(sheets: Sequence[Sequence[Taken]], parts: Sequence[Part], stock: Stock) -> list[SheetPlan] | None:
    """Every sheet with its cuts, or None where one of them cannot be cut through."""
    cut = []
    for taken in sheets:
        sheet = sawn(taken, parts, stock)
        if sheet is None:
            return None
        cut.append(sheet)
    return cut


def _waste(sheets: Sequence[SheetPlan]) -> tuple[int, float, int]:
    """What makes a plan worse: sheets, then small offcuts, then cuts."""
    offcuts = [offcut.area_m2 for sheet in sheets for offcut in sheet.offcuts]
    return len(sheets), -max(offcuts, default=0.0), sum(len(sheet.cuts) for sheet in sheets)


def _alike(sheets: Sequence[SheetPlan]) -> tuple[SheetPlan, ...]:
    """Sheets that are cut the same are shown once."""
    return tuple(replace(sheet, alike=count) for sheet, count in Counter(sheets).items())
