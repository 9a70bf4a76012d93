"""The dry run: each line is new, changed, the same or refused, with the reason naming column and value."""

import datetime
from collections.abc import Mapping
from decimal import Decimal

import pytest

from materials.models import Item, Price
from materials.services.price_book_files.planning import Plan, plan_import
from materials.services.price_book_files.rows import COLUMNS
from tests.factories import make_item, make_price

pytestmark = pytest.mark.django_db
LINE = {
    "key": "marble_flour",
    "name": "Marble flour",
    "kind": "filler",
    "unit": "kg",
    "supplier": "Brome and Daughters",
    "lead_days": "0",
    "pack": "25 kg bag",
    "pack_quantity": "25",
    "valid_from": "2026-01-05",
    "price": "84.50",
    "currency": "GBP",
}


def cells(**values: str) -> Mapping[str, str]:
    return {**dict.fromkeys(COLUMNS, ""), **LINE, **values}


def plan(*lines: Mapping[str, str]) -> Plan:
    return plan_import(list(enumerate(lines, start=2)), "GBP")


def only(found: Plan) -> tuple[str, tuple[str, ...]]:
    [outcome] = found.outcomes
    return outcome.state, outcome.says


def test_a_line_of_something_unknown_is_new() -> None:
    assert only(plan(cells())) == ("new", ("new item", "new pack: 25 kg bag", "new price from 2026-01-05: £84.50"))


def test_a_line_that_is_there_already_is_the_same() -> None:
    make_price(make_item(), 8450)
    assert only(plan(cells())) == ("same", ())
    assert only(plan(cells(price="84.5", pack_quantity="25.000", lead_days=""))) == ("same", ())


def test_a_later_day_is_a_new_price_and_a_day_that_is_there_a_changed_one() -> None:
    make_price(make_item(), 8450)
    assert only(plan(cells(valid_from="2026-02-01", price="90"))) == ("new", ("new price from 2026-02-01: £90.00",))
    assert only(plan(cells(price="80"))) == ("changed", ("price from 2026-01-05: £84.50 becomes £80.00",))


def test_what_changes_of_an_item_is_said_once_with_before_and_after() -> None:
    make_price(make_item(supplier="Old Quay"), 8450)
    first, second = plan(
        cells(shelf_life_days="90"), cells(shelf_life_days="90", pack_quantity="5", pack="bag")
    ).outcomes
    assert first.says == (
        "supplier: “Old Quay” becomes “Brome and Daughters”",
        "shelf_life_days: nothing becomes “90”",
    )
    assert second.says == ("new pack: bag", "new price from 2026-01-05: £84.50")


def test_a_density_is_said_in_plain_figures() -> None:
    make_price(make_item(density_kg_m3=1200.0), 8450)
    said = ("density_kg_m3: “1200” becomes “2800.5”",)
    assert only(plan(cells(density_kg_m3="2800.50"))) == ("changed", said)


def test_a_pack_keeps_its_size_and_may_be_called_otherwise() -> None:
    make_price(make_item(), 8450)
    assert only(plan(cells(pack="sack"))) == ("changed", ("pack: “25 kg bag” becomes “sack”",))


def test_an_item_or_a_pack_alone_is_taken() -> None:
    bare = cells(pack="", pack_quantity="", valid_from="", price="")
    assert only(plan(bare)) == ("new", ("new item",))
    assert only(plan(cells(valid_from="", price=""))) == ("new", ("new item", "new pack: 25 kg bag"))


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"key": "Marble Flour"}, "key: “Marble Flour” is not a key"),
        ({"key": ""}, "key: It is empty; give"),
        ({"name": ""}, "name: It is empty"),
        ({"name": "x" * 121}, "has 121 characters; 120 are allowed"),
        ({"name": "two\nlines"}, "name: “two\ufffdlines” holds a sign that files cannot carry"),
        ({"supplier": "\x07"}, "supplier: “\ufffd” holds a sign"),
        ({"kind": "plaster"}, "kind: “plaster” is not known; use one of resin, glass"),
        ({"unit": "stone"}, "unit: “stone” is not known; use one of kg"),
        ({"density_kg_m3": "1,1"}, "density_kg_m3: “1,1” is not a plain number"),
        ({"density_kg_m3": "0.2"}, "density_kg_m3: A density of 0.2 kg/m³ is not credible"),
        ({"lead_days": "-1"}, "lead_days: “-1” is not a number of days"),
        ({"lead_days": "731"}, "lead_days: “731” is not a number of days"),
        ({"shelf_life_days": "½"}, "shelf_life_days: “½” is not a number of days"),
        ({"pack": ""}, "pack: It is empty"),
        ({"pack_quantity": ""}, "pack_quantity: It is empty"),
        ({"pack_quantity": "0"}, "pack_quantity: A pack of 0 is not credible"),
        ({"pack_quantity": "1.00001"}, "pack_quantity: A pack of 1.00001 is given too finely"),
        ({"pack_quantity": "1e5"}, "pack_quantity: “1e5” is not a plain number"),
        ({"pack_quantity": "２５"}, "pack_quantity: “２５” is not a plain number"),
        ({"valid_from": ""}, "valid_from: It is empty"),
        ({"valid_from": "05/01/2026"}, "valid_from: “05/01/2026” is not a day; write year, month and day"),
        ({"valid_from": "2026-02-30"}, "valid_from: “2026-02-30” is not a day"),
        ({"valid_from": "1066-10-14"}, "valid_from: The day 1066-10-14 is not credible"),
        ({"price": ""}, "price: It is empty"),
        ({"price": "NaN"}, "price: “NaN” is not an amount in GBP"),
        ({"price": "-3"}, "price: “-3” is not an amount in GBP"),
        ({"price": "84.555"}, "price: “84.555” has more digits after the point than GBP has"),
        ({"price": "9" * 18}, "price: "),
        ({"currency": "EUR"}, "currency: “EUR” is not this studio's currency; give prices in GBP."),
        ({"currency": ""}, "currency: It is empty"),
    ],
)
def test_a_line_is_refused_by_column_and_value(values: dict[str, str], reason: str) -> None:
    state, says = only(plan(cells(**values)))
    assert state == "refused"
    assert any(reason in said for said in says), says


def test_every_fault_of_a_line_is_named() -> None:
    _, says = only(plan(cells(kind="plaster", price="much", valid_from="soon")))
    assert [said.partition(":")[0] for said in says] == ["kind", "valid_from", "price"]


def test_an_item_with_packs_keeps_its_unit() -> None:
    make_price(make_item(), 8450)
    state, says = only(plan(cells(unit="l")))
    assert state == "refused"
    assert says == ("unit: The packs are counted in kg; make a new item to count in l.",)
    make_item("slate", name="Slate")
    bare = dict.fromkeys(("pack", "pack_quantity", "valid_from", "price"), "")
    assert only(plan(cells(key="slate", name="Slate", unit="l", **bare)))[0] == "changed"


def test_an_hour_has_one_pack() -> None:
    hour = {"key": "welding_hour", "name": "Welding", "kind": "hour", "unit": "h"}
    one, two = plan(cells(**hour, pack_quantity="1"), cells(**hour, pack_quantity="8")).outcomes
    assert (one.state, two.state) == ("new", "refused")
    assert two.says[0].startswith("pack_quantity: An hour has one pack")


@pytest.mark.parametrize(
    ("second", "reason"),
    [
        ({"price": "90"}, "key: Line 2 is about the same; leave one of them out."),
        (
            {"valid_from": "2026-02-01", "supplier": "Old Quay"},
            "supplier: It differs from line 2, which is about the same",
        ),
        (
            {"valid_from": "2026-02-01", "pack": "sack"},
            "pack: It differs from line 2, which is about a pack of the same",
        ),
    ],
)
def test_two_lines_that_contradict_each_other_are_not_both_taken(second: dict[str, str], reason: str) -> None:
    one, two = plan(cells(), cells(**second)).outcomes
    assert (one.state, two.state) == ("new", "refused")
    assert two.says[0].startswith(reason)


def test_planning_changes_nothing() -> None:
    make_price(make_item(), 8450)
    before = (list(Item.objects.values()), list(Price.objects.values()))
    found = plan(cells(price="1", name="Other"), cells(price="1", name="Other", valid_from="2026-03-01"))
    assert [outcome.state for outcome in found.outcomes] == ["changed", "new"]
    assert (list(Item.objects.values()), list(Price.objects.values())) == before
    assert found.before["marble_flour"].packs[Decimal(25)].prices == {datetime.date(2026, 1, 5): 8450}


def test_it_takes_one_query_whatever_the_size(django_assert_num_queries: object) -> None:
    for number in range(30):
        make_price(make_item(f"item_{number}"), 100)
    with django_assert_num_queries(1):  # type: ignore[operator]
        plan(*[cells(key=f"item_{number}") for number in range(30)])
