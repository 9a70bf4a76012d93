"""The cheapest packs that cover a need."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from heapq import heappop, heappush
from math import ceil, gcd, lcm

from studio.money import MoneyError

MOST_STEPS = 100_000
"""How many part-baskets are looked at before the search gives up: about half a second."""


class TooManyPacks(MoneyError):
    """The sizes of an item are too many and too finely different to choose among."""


@dataclass(frozen=True, slots=True)
class Pack:
    """A size in which something is sold.

    Attributes
    ----------
    label : str
        As the supplier calls it, "25 kg drum".
    quantity : Decimal
        What it holds, in its item's unit, above nought.
    price_minor : int
        Before tax, minor units [dimensionless], not negative.

    Raises
    ------
    MoneyError
        When it holds nothing, or its price is negative.
    """

    label: str
    quantity: Decimal
    price_minor: int

    def __post_init__(self) -> None:
        if not self.quantity.is_finite() or self.quantity <= 0:
            raise MoneyError(f"Pack {self.label!r} holds {self.quantity}; give what one pack holds, above nought.")
        if self.price_minor < 0:
            raise MoneyError(f"Pack {self.label!r} costs {self.price_minor}; give a price of nought or more.")


@dataclass(frozen=True, slots=True)
class PackChoice:
    """So many of one pack [dimensionless]."""

    pack: Pack
    count: int


def cheapest_packs(need: Decimal, packs: Sequence[Pack]) -> tuple[PackChoice, ...]:
    """The packs that cover a need for the least money, and among equals with the least left over.

    Parameters
    ----------
    need : Decimal
        In the unit of the packs, nought or more.
    packs : sequence of Pack
        At least one.

    Returns
    -------
    tuple of PackChoice
        Largest pack first; empty when nothing is needed.

    Raises
    ------
    MoneyError
        When the need is negative or not finite, or there is no pack.
    TooManyPacks
        When the search would look at more than ``MOST_STEPS`` part-baskets.

    Notes
    -----
    Quantities are counted in their greatest common measure, so that all is whole numbers. A basket that is optimal
    need hold fewer packs outside the best rate than the best pack has measures: any such number of packs contains
    some whose sum is a multiple of the best pack, which replaces them at no greater cost (pigeonhole). So the bulk
    is bought at the best rate, and a search by rising cost decides the rest exactly; a part-basket is dropped when
    a cheaper one holds as much.
    """
    if not packs or not need.is_finite() or need < 0:
        raise MoneyError(f"A need of {need} cannot be met from {len(packs)} packs; give nought or more, and a pack.")
    if need == 0:
        return ()
    fractions = [Fraction(pack.quantity) for pack in packs]
    scale = lcm(*(fraction.denominator for fraction in fractions))
    sizes = [int(fraction * scale) for fraction in fractions]
    measure = gcd(*sizes)
    sizes = [size // measure for size in sizes]
    target = ceil(Fraction(need) * scale / measure)

    best = min(range(len(packs)), key=lambda i: (Fraction(packs[i].price_minor, sizes[i]), -sizes[i]))
    others = max((size for i, size in enumerate(sizes) if i != best), default=0)
    bulk = max(0, (target - (sizes[best] - 1) * others) // sizes[best])
    chosen = Counter(_search(target - bulk * sizes[best], sizes, [pack.price_minor for pack in packs]))
    chosen[best] += bulk
    order = sorted(chosen, key=lambda i: packs[i].quantity, reverse=True)
    return tuple(PackChoice(packs[i], chosen[i]) for i in order if chosen[i])


def _search(target: int, sizes: Sequence[int], prices: Sequence[int]) -> list[int]:
    """Indices of the packs whose sizes cover ``target``; exact, by rising cost."""
    start = (0, 0)
    heap, came_by = [start], {start: (start, -1)}
    fullest_below, fullest_here, cost_here = -1, -1, 0
    found: tuple[int, int] | None = None
    for _ in range(MOST_STEPS):
        if found and (not heap or heap[0][0] > found[0]):
            return _basket(found, came_by)
        cost, held = basket = heappop(heap)
        if cost > cost_here:
            fullest_below, cost_here = max(fullest_below, fullest_here), cost
        fullest_here = max(fullest_here, held)
        if held >= target:
            found = min(found or basket, basket)
        elif held > fullest_below:
            for i, (size, price) in enumerate(zip(sizes, prices, strict=True)):
                fuller = (cost + price, held + size)
                if fuller not in came_by:
                    came_by[fuller] = (basket, i)
                    heappush(heap, fuller)
    raise TooManyPacks(f"The packs come in {len(sizes)} sizes too finely different to choose among; list fewer.")


def _basket(full: tuple[int, int], came_by: Mapping[tuple[int, int], tuple[tuple[int, int], int]]) -> list[int]:
    packs: list[int] = []
    while full != (0, 0):
        full, i = came_by[full]
        packs.append(i)
    return packs
