"""What a quote is built from: hours by stage, materials and sent-out work as priced."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from materials.estimator.lines import HourLine
from materials.pricing import PricedMaterial
from studio.money import exact, working


@dataclass(frozen=True, slots=True)
class LabourPart:
    """Hours that make one line.

    Attributes
    ----------
    key, label : str
        The same key in every version of a quote; plain words.
    hours : Decimal
        Productive hours [h].
    """

    key: str
    label: str
    hours: Decimal


@dataclass(frozen=True, slots=True)
class CostPart:
    """A cost that is known and makes one line.

    Attributes
    ----------
    key, label : str
        The same key in every version of a quote; plain words.
    amount_minor : int
        Minor units [dimensionless].
    quantity : Decimal or None
        How much of it, in ``unit``.
    unit : str
    note : str
        What stands beside it, such as the packs.
    """

    key: str
    label: str
    amount_minor: int
    quantity: Decimal | None = None
    unit: str = ""
    note: str = ""


def labour_parts(hours: Iterable[HourLine]) -> tuple[LabourPart, ...]:
    """Likely hours by stage, over all sections.

    Parameters
    ----------
    hours : iterable of HourLine

    Returns
    -------
    tuple of LabourPart
        One a stage [h], in the order in which the stages first appear.
    """
    by_stage: dict[str, Decimal] = {}
    with working():
        for line in hours:
            by_stage[line.stage] = by_stage.get(line.stage, Decimal(0)) + exact(line.likely)
    return tuple(LabourPart(f"labour_{stage}", stage.capitalize(), total) for stage, total in by_stage.items())


def cost_parts(priced: Iterable[PricedMaterial]) -> tuple[CostPart, ...]:
    """Materials or sent-out work as lines.

    Parameters
    ----------
    priced : iterable of PricedMaterial
        ``materials`` or ``sent_out`` of a priced take-off.

    Returns
    -------
    tuple of CostPart
        With what is charged and, as a note, what is ordered.
    """
    return tuple(
        CostPart(
            key=item.key,
            label=item.name,
            amount_minor=item.cost_minor,
            quantity=item.bought,
            unit=item.unit,
            note=", ".join(f"{choice.count} × {choice.pack.label}" for choice in item.packs),
        )
        for item in priced
    )
