"""Deliveries, counts and what is written off."""

import datetime
import uuid
from collections.abc import Callable
from copy import copy
from decimal import Decimal
from functools import partial
from typing import Any

from django import forms
from django.utils import timezone

from materials.forms.catalogue import day_field
from materials.forms.reading import ReadField
from materials.models import Item, Pack
from materials.services import allowed
from materials.services.stores import Delivery, expiry_of
from materials.stock.amounts import read_amount
from studio.forms import NumberField, choose
from studio.money import parse_amount

BATCH, NOTE = 60, 160
NO_PACK = ""
LOST = "This page lost its place; load it again."


def amount_field(unit: str, label: str, missing: str, *, allow_zero: bool = False) -> ReadField:
    """A quantity in an item's unit."""
    read: Callable[[str], Decimal] = partial(read_amount, unit=unit, allow_zero=allow_zero)
    widget = forms.TextInput(attrs={"inputmode": "decimal"})
    return ReadField(read, label=label, missing=missing, widget=widget)


class KeyedForm(forms.Form):
    """A form whose sending twice moves once."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages=dict.fromkeys(("required", "invalid"), LOST)
    )


class ReceiveForm(KeyedForm):
    """A delivery of one item: so many packs, or a quantity."""

    def __init__(self, item: Item, currency: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.item, self.currency = item, currency
        self.packs = {str(pack.pk): pack for pack in item.packs.all()}
        if self.packs:
            offered = [*((key, pack.label) for key, pack in self.packs.items()), (NO_PACK, "no pack, by quantity")]
            self.fields["pack"] = forms.ChoiceField(
                choices=offered,
                required=False,
                initial=offered[0][0],
                error_messages=choose("Choose a pack from the list."),
            )
            self.fields["packs_count"] = NumberField(
                label="How many packs", wanted="how many packs came, such as 2", low="1", high="9999", decimals=0
            )
            self.fields["packs_count"].required = False
        self.fields["quantity"] = amount_field(
            item.unit, f"{'Or the quantity' if self.packs else 'Quantity'} in {item.get_unit_display()}", ""
        )
        self.fields["cost"] = ReadField(
            partial(parse_amount, currency=currency),
            label=f"What it cost before tax, all together, in {currency}",
            missing="Enter what the delivery cost before tax, such as 218.00.",
            widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        )
        line = partial(allowed.line_of_text, most=BATCH)
        self.fields["batch"] = ReadField(
            line, label="Batch number", help_text="As it stands on the drum, so that a cast can be traced years later."
        )
        self.fields["received"] = day_field("Day it came")
        self.fields["expires"] = ReadField(
            allowed.iso_day,
            label="Last day to use it",
            help_text=self._shelf_life(),
            widget=forms.DateInput(attrs={"type": "date"}),
        )
        self.fields["supplier"] = ReadField(partial(allowed.line_of_text, most=allowed.SUPPLIER), label="Supplier")

    def _shelf_life(self) -> str:
        days = self.item.shelf_life_days
        return f"Left blank: {days} days from the day it came." if days else "Left blank: it does not spoil."

    def clean(self) -> dict[str, Any]:
        """One of packs and quantity, and no more than one."""
        cleaned = super().clean() or {}
        count, quantity = cleaned.get("packs_count"), cleaned.get("quantity")
        pack = self.packs.get(str(cleaned.get("pack") or NO_PACK))
        wrong = {"pack", "packs_count", "quantity"} & self.errors.keys()
        if count and quantity:
            self.add_error("quantity", "Enter either packs or a quantity; one says the other.")
        elif count and not pack:
            self.add_error("pack", "Choose which pack came that often, or enter the quantity instead.")
        elif not count and not quantity and not wrong:
            wanted = "Enter how many packs came, or the quantity." if self.packs else "Enter the quantity that came."
            self.add_error("packs_count" if self.packs else "quantity", wanted)
        cleaned["came"] = _whole(pack, count) if pack and count else quantity
        return cleaned

    def clean_received(self) -> datetime.date:
        """The day, which has been."""
        day: datetime.date = self.cleaned_data["received"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day} has not been yet; enter the day it came.")
        return day

    def delivery(self) -> Delivery:
        """What was entered."""
        data = self.cleaned_data
        return Delivery(
            quantity=data["came"],
            cost_minor=data["cost"],
            currency=self.currency,
            batch=data["batch"] or "",
            supplier=data["supplier"] or self.item.supplier,
            received=data["received"],
            expires=data["expires"] or expiry_of(self.item, data["received"]),
        )


def _whole(pack: Pack, count: Decimal) -> Decimal:
    return pack.quantity * count


class CountForm(KeyedForm):
    """What a lot was found to hold."""

    expected = forms.DecimalField(widget=forms.HiddenInput, error_messages=dict.fromkeys(("required", "invalid"), LOST))

    def __init__(self, unit: str, shown_unit: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["counted"] = amount_field(
            unit, f"What it holds in {shown_unit}", "Enter what you counted, 0 if it is empty.", allow_zero=True
        )
        self.fields["note"] = ReadField(
            partial(allowed.line_of_text, most=NOTE), label="Note", help_text="Such as where it was found."
        )

    def expect(self, now: Decimal) -> None:
        """After the lot was moved: keep what was typed, and count against what the ledger says now."""
        data: Any = copy(self.data)
        data["expected"] = str(now)
        self.data = data


class WriteOffForm(KeyedForm):
    """What cannot be used any more."""

    def __init__(self, unit: str, shown_unit: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quantity"] = amount_field(
            unit, f"How much in {shown_unit}", "Enter how much is written off, such as 2.5."
        )
        self.fields["note"] = ReadField(
            partial(allowed.line_of_text, most=NOTE),
            label="Why",
            missing="Say why it cannot be used, such as gelled in the drum.",
        )
