"""Hours and priced materials as the parts of a quote."""

import datetime
from decimal import Decimal

from jobs.figures.parts import CostPart, LabourPart, cost_parts, labour_parts
from materials.estimator.lines import HourLine, Line, TakeOff
from materials.packs import Pack
from materials.pricing import ItemPrice, PriceBook, price_take_off


def test_hours_are_summed_by_stage_in_the_order_of_the_work():
    hours = [
        HourLine("Body", "pattern", "carve", 8.0, 10.1, 14.0, "", ()),
        HourLine("Body", "mould", "laminate", 3.0, 4.0, 6.0, "", ()),
        HourLine("Leaf", "pattern", "carve", 1.0, 2.2, 3.0, "", ()),
    ]
    assert labour_parts(hours) == (
        LabourPart("labour_pattern", "Pattern", Decimal("12.3")),
        LabourPart("labour_mould", "Mould", Decimal("4.0")),
    )


def test_a_material_says_what_is_ordered():
    resin = ItemPrice(
        "resin", "Resin", "resin", "kg", (Pack("1 kg tin", Decimal(1), 900), Pack("5 kg tin", Decimal(5), 3900))
    )
    take_off = TakeOff("Trial", (), (Line("Body", "cast", "resin", 5.0, 6.2, "kg", "", ()),), (), ())
    priced = price_take_off(take_off, PriceBook("GBP", datetime.date(2026, 1, 1), {"resin": resin}), mode="packs")
    assert cost_parts(priced.materials) == (
        CostPart("resin", "Resin", 5700, Decimal(7), "kg", "1 × 5 kg tin, 2 × 1 kg tin"),
    )
