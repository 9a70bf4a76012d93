"""A build-up arranged for reading: groups of lines with their sums, and the bar that shows what a price is made of."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.figures.quote import BuildUpLine
from jobs.services.pricing import Priced

BAR = 1000
"""Length of the whole bar, in its own units."""

# Key, name, kinds of line. The key is also that of the hatch in the bar.
GROUPS = (
    ("labour", "Labour", ("labour",)),
    ("overhead", "Overhead", ("overhead",)),
    ("materials", "Materials", ("material", "consumables")),
    ("sent-out", "Sent-out work", ("sent_out", "handling")),
    ("contingency", "Contingency", ("contingency",)),
    ("profit", "Profit", ("profit",)),
)


@dataclass(frozen=True, slots=True)
class Group:
    """Lines of one sort; ``start`` and ``length`` are its place in the bar, ``share`` is for reading."""

    key: str
    name: str
    lines: tuple[BuildUpLine, ...]
    amount_minor: int
    share: float
    start: int
    length: int


def groups_of(lines: Sequence[BuildUpLine]) -> tuple[Group, ...]:
    """The groups that have lines; their places in the bar touch and fill it."""
    total = sum(line.amount_minor for line in lines)
    found, done = [], 0
    for key, name, kinds in GROUPS:
        own = tuple(line for line in lines if line.kind in kinds)
        if not own:
            continue
        amount = sum(line.amount_minor for line in own)
        start = _place(done, total)
        done += amount
        share = round(amount / total, 3) if total else 0.0
        found.append(Group(key, name, own, amount, share, start, _place(done, total) - start))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Total:
    """A sum before and after, in minor units."""

    label: str
    was_minor: int
    is_minor: int

    @property
    def difference_minor(self) -> int:
        """By how much it rose."""
        return self.is_minor - self.was_minor


def totals_of(was: Priced, now: Priced, tax_name: str) -> tuple[Total, ...]:
    """What two prices come to."""
    return (
        Total(f"Price before {tax_name}", was.price.net_minor, now.price.net_minor),
        Total("Total", was.price.gross_minor, now.price.gross_minor),
        Total("Price that four in five jobs stay within", was.p80_net_minor, now.p80_net_minor),
        Total("Cost", was.built.cost_minor, now.built.cost_minor),
        Total("Profit", was.profit_minor, now.profit_minor),
    )


def _place(amount: int, total: int) -> int:
    return round(BAR * amount / total) if total else 0
