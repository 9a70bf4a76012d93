"""Issuing from a lot to a stage, and returning to it."""

import datetime
import uuid
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from materials.estimator.errors import EstimatorError
from materials.models import Item, Lot
from materials.queries.stock import LotRow
from materials.stock.amounts import read_amount
from studio.forms import choose

LOST = "This page lost its place; load it again."


class AmountField(forms.CharField):
    """A quantity in an item's unit, as people type it."""

    def __init__(self, unit: str, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal"})
        super().__init__(
            max_length=40, widget=widget, error_messages={"required": "Enter how much, such as 2.5."}, **kwargs
        )
        self.unit = unit

    def clean(self, value: Any) -> Decimal:
        """The quantity read."""
        try:
            return read_amount(str(super().clean(value)), self.unit)
        except EstimatorError as error:
            raise ValidationError(str(error)) from None


class LotForm(forms.Form):
    """How much of which lot; the lot to be used first is proposed."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages=dict.fromkeys(("required", "invalid"), LOST)
    )

    def __init__(
        self,
        item: Item,
        rows: Sequence[LotRow],
        today: datetime.date,
        *args: Any,
        lot: int | None = None,
        casts: int = 0,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        if casts > 1:
            self.fields["cast"] = forms.IntegerField(
                label=f"For which cast, 1 to {casts}",
                required=False,
                help_text="As its label says. Leave it empty for what goes into several.",
                min_value=1,
                max_value=casts,
                widget=forms.TextInput(attrs={"inputmode": "numeric"}),
                error_messages=dict.fromkeys(
                    ("invalid", "min_value", "max_value"), f"Its casts are numbered 1 to {casts}, as on their labels."
                ),
            )
        self.lots = {str(row.lot.pk): row.lot for row in rows}
        good = [row for row in rows if not row.expired(today)] or list(rows)
        proposed = str(lot) if str(lot) in self.lots else str(good[0].lot.pk)
        self.fields["lot"] = forms.ChoiceField(
            label="From which lot",
            choices=[(str(row.lot.pk), _said(row, today)) for row in rows],
            initial=proposed,
            widget=forms.RadioSelect,
            error_messages=choose("Choose the lot it is taken from."),
        )
        self.fields["quantity"] = AmountField(item.unit, label=f"How much in {item.get_unit_display()}")

    def chosen(self) -> Lot:
        """The lot."""
        return self.lots[self.cleaned_data["lot"]]


def _said(row: LotRow, today: datetime.date) -> str:
    lot = row.lot
    batch = f"Batch {lot.batch}" if lot.batch else f"Without a batch, came {_day(lot.received)}"
    holds = f"holds {row.quantity.normalize():f} {lot.item.get_unit_display()}"
    if lot.expires is None:
        return f"{batch}, {holds}"
    return f"{batch}, {holds}, {'expired' if row.expired(today) else 'expires'} {_day(lot.expires)}"


def _day(day: datetime.date) -> str:
    return f"{day.day} {day:%b %Y}"


class ReturnForm(forms.Form):
    """How much of a lot comes back."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages=dict.fromkeys(("required", "invalid"), LOST)
    )

    def __init__(self, item: Item, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quantity"] = AmountField(item.unit, label=f"How much comes back in {item.get_unit_display()}")
