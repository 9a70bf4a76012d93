"""The labels of a commission: one on each cast, mould piece and crate."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from jobs.delivery.label_codes import CAST, CRATE, PIECE, Labelled
from jobs.models import Commission
from jobs.weights import Weight
from materials.units import format_quantity


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says, and the address its code opens."""

    code: str
    address: str
    number: str
    title: str
    section: str
    what: str
    mass: str


def labels_of(
    commission: Commission,
    weights: Collection[Weight],
    kinds: Collection[str],
    units: str,
    address_of: Callable[[str], str],
) -> list[Label]:
    """The labels of these sections, of these kinds; ``address_of`` gives what a code opens."""
    return [
        Label(
            labelled.code,
            address_of(labelled.code),
            commission.number,
            commission.title,
            weight.section.name,
            what,
            f"{weighs} {format_quantity(mass_kg, 'mass', 'us' if units == 'us' else 'metric')}",
        )
        for weight in weights
        for labelled, what, weighs, mass_kg in _things(weight)
        if labelled.kind in kinds
    ]


def _things(weight: Weight) -> Iterator[tuple[Labelled, str, str, float]]:
    """Everything of a section that carries a label: what it is called, and about how much it weighs or holds."""
    section, figures = weight.section.pk, weight.figures
    casts = [(number, _of(number, figures.casts)) for number in range(1, figures.casts + 1)]
    for number, counted in casts:
        yield Labelled(section, CAST, number), f"Cast {counted}", "about", weight.cast_kg
    for mould in range(1, figures.moulds + 1):
        of_mould = f"Mould {_of(mould, figures.moulds)}, " if figures.moulds > 1 else "Mould "
        for piece in range(1, figures.mould.pieces + 1):
            what = f"{of_mould}piece {_of(piece, figures.mould.pieces)}"
            yield Labelled(section, PIECE, mould, piece), what, "about", figures.mould.piece_mass_kg
    for number, counted in casts if weight.spec.crated else ():
        yield Labelled(section, CRATE, number), f"Crate of cast {counted}", "holds about", weight.cast_kg


def _of(number: int, count: int) -> str:
    """One of several, to stay on one line."""
    return f"{number} of {count}".replace(" ", "\N{NO-BREAK SPACE}")
