"""Numbered rows of the same fields, without a script."""

from typing import Any

from django import forms

from studio.forms import NumberField
from studio.rows import SPARE, RowsForm

APPLES = {"kind": "apple", "weight": 1.5}
PEARS = {"kind": "pear", "weight": 2.25}


class Crates(RowsForm):
    row_name = "crate"
    most = 4

    def row_fields(self) -> dict[str, forms.Field]:
        return {
            "kind": forms.ChoiceField(
                label="Fruit",
                choices=[("", "none"), ("apple", "Apples"), ("pear", "Pears")],
                error_messages={"required": "Choose the fruit."},
            ),
            "weight": NumberField(label="Weight", wanted="the weight, such as 2"),
        }


def sent(*rows: tuple[str, str, str]) -> dict[str, Any]:
    data = {"version": "0"}
    for number, (kind, weight, order) in enumerate(rows):
        data |= {f"kind_{number}": kind, f"weight_{number}": weight, f"order_{number}": order}
    return data


def test_there_are_the_rows_given_and_a_few_to_fill() -> None:
    form = Crates(rows=[APPLES])
    assert len(form.table()) == 1 + SPARE
    assert [field.value() for _, field in form.table()[0]] == ["apple", "1.5", "1"]


def test_there_are_never_more_rows_than_allowed() -> None:
    assert len(Crates(rows=[APPLES, PEARS, APPLES]).table()) == 4


def test_rows_come_in_their_order_and_empty_ones_are_none() -> None:
    form = Crates(sent(("apple", "1", "2"), ("pear", "2", "1.5"), ("", "", "3")), rows=[APPLES])
    assert form.is_valid(), form.errors
    assert [row["kind"] for row in form.rows] == ["pear", "apple"]


def test_a_row_whose_first_field_is_emptied_is_taken_out() -> None:
    form = Crates(sent(("", "1.5", "1"), ("pear", "2", "2")), rows=[APPLES, PEARS])
    assert form.is_valid(), form.errors
    assert [row["kind"] for row in form.rows] == ["pear"]


def test_a_new_row_without_its_first_field_is_asked_for_it() -> None:
    form = Crates(sent(("", "1.5", "1")))
    assert form.errors == {"kind_0": ["Choose the fruit."]}


def test_a_row_begun_has_to_be_whole() -> None:
    form = Crates(sent(("apple", "", "1")))
    assert form.errors == {"weight_0": ["Enter the weight, such as 2."]}


def test_a_wrong_number_is_told_once_and_names_its_row() -> None:
    form = Crates(sent(("apple", "1", "1"), ("pear", "two", "2")))
    assert list(form.errors) == ["weight_1"]
    assert form["weight_1"].label == "Weight, crate 2"


def test_what_was_not_touched_keeps_all_its_figures() -> None:
    form = Crates(sent(("apple", "1.123456", "1")), rows=[{"kind": "apple", "weight": 1.123456}])
    assert form.is_valid()
    assert form.rows[0]["weight"] == 1.123456


def test_nobody_can_send_more_rows_than_allowed() -> None:
    form = Crates(sent(*[("apple", "1", "1")] * 9))
    assert form.is_valid()
    assert len(form.rows) == 4


def test_after_a_conflict_the_typed_stays_and_the_new_version_is_taken() -> None:
    form = Crates(sent(("apple", "3", "1")), rows=[APPLES])
    found = form.catch_up(Crates(rows=[{"kind": "apple", "weight": 4.0}], initial={"version": 7}))
    assert [(each.label, each.there_now) for each in found] == [("Weight, crate 1", "4")]
    assert form["version"].value() == "7"
    assert form["weight_0"].value() == "3"
