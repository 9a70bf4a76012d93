"""From dimensions to price: a bigger pattern is never cheaper, and a finer grade neither."""

import datetime
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.parts import cost_parts, labour_parts
from jobs.figures.profit import Margin
from jobs.figures.quote import Costing, Rates, build_up
from materials.estimator.catalogue import entry_of
from materials.estimator.shapes import Shape, scaled
from materials.estimator.takeoff import take_off
from materials.packs import Pack
from materials.pricing import ItemPrice, PriceBook, price_take_off
from tests.materials.estimator.specs import job, section
from tests.materials.estimator.strategies import shapes

DAY = datetime.date(2026, 3, 2)
RATES = Rates(Decimal(1540), Decimal("0.28"), Decimal("0.8"), Decimal(1120))


def book(keys: set[str]) -> PriceBook:
    """Every material in a small pack and a large one; invented prices."""
    items = {}
    for place, key in enumerate(sorted(keys)):
        entry = entry_of(key)
        packs = (Pack("small", Decimal(1), 300 + 41 * place), Pack("large", Decimal(20), 4400 + 530 * place))
        items[key] = ItemPrice(key, entry.name, "service" if entry.sent_out else "material", entry.unit, packs)
    return PriceBook("GBP", DAY, items)


def net_minor(shape: Shape, pieces: int, pulls: int) -> int:
    """The net price of one section of that shape."""
    taken = take_off(job(section(shape, pieces=pieces, pulls=pulls, metal_kg=12.0)))
    priced = price_take_off(taken, book({line.material for line in taken.lines}), mode="packs")
    return build_up(
        Costing(
            labour=labour_parts(taken.hours),
            rates=RATES,
            materials=cost_parts(priced.materials),
            consumables_share=Decimal("0.075"),
            sent_out=cost_parts(priced.sent_out),
            handling_share=Decimal("0.1"),
            contingency_share=Decimal("0.075"),
            profit=Margin(Decimal("0.18")),
        )
    ).net_minor


@settings(max_examples=700, derandomize=True, deadline=None, database=None)
@given(shape=shapes, factor=st.floats(min_value=1.0, max_value=2.5), pieces=st.sampled_from([1, 2, 4]))
def test_a_bigger_pattern_is_never_cheaper(shape: Shape, factor: float, pieces: int) -> None:
    assert net_minor(scaled(shape, factor), pieces, 1) >= net_minor(shape, pieces, 1)


@settings(max_examples=300, derandomize=True, deadline=None, database=None)
@given(shape=shapes, pulls=st.integers(1, 20))
def test_another_cast_is_never_cheaper(shape: Shape, pulls: int) -> None:
    assert net_minor(shape, 2, pulls + 1) >= net_minor(shape, 2, pulls)
