"""Crate panels cut from sheets of plywood. Common practice, no source."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.delivery.crate_parts import Panel
from jobs.delivery.cutting import CuttingPlan, Stock
from jobs.delivery.joined import joined, parts_along
from jobs.delivery.nesting import nest

# Less than this beyond whole sheets can be had by a little less clearance.
_HARDLY_M = 0.05


@dataclass(frozen=True, slots=True)
class Overshoot:
    """A panel that is only a little larger than whole sheets, and by how much [m]."""

    panel: Panel
    by_m: float


def boards_plan(panels: Sequence[Panel], stock: Stock, *, crates: int = 1) -> CuttingPlan:
    """All panels of equal crates on the fewest sheets: joints are tried evenly spaced and at full sheets.

    Parameters
    ----------
    panels : sequence of Panel
        Of one crate.
    stock : Stock
    crates : int
        How many are cut at once [each].

    Returns
    -------
    CuttingPlan

    Raises
    ------
    OutOfRange
        When there are too many parts for one plan.
    """
    plans = []
    for evenly in (True, False):
        parts = [
            part
            for panel in panels
            for part in joined(panel.name, panel.length_m, panel.width_m, stock, evenly=evenly) * panel.count
        ]
        plans.append(nest(parts * crates, stock))
    return min(plans, key=lambda plan: plan.count)


def overshoots(panels: Sequence[Panel], stock: Stock) -> tuple[Overshoot, ...]:
    """Panels that a little less clearance would cut from fewer sheets.

    Parameters
    ----------
    panels : sequence of Panel
    stock : Stock

    Returns
    -------
    tuple of Overshoot
    """
    found = []
    for panel in panels:
        for side_m, sheet_m in ((panel.length_m, stock.length_m), (panel.width_m, stock.width_m)):
            by_m = side_m - (parts_along(side_m, sheet_m) - 1) * sheet_m
            if side_m > sheet_m and by_m < _HARDLY_M:
                found.append(Overshoot(panel, by_m))
    return tuple(found)
