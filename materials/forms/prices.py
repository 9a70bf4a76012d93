"""Prices, the day whose prices are shown, and the file that brings prices."""

from functools import partial
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from materials.forms.catalogue import day_field
from materials.forms.reading import ReadField
from materials.models import Price
from materials.services import allowed
from materials.services.price_book_files.table import MOST_BYTES
from studio.money import parse_amount, to_decimal


class PriceForm(forms.Form):
    """What a pack costs from a day on."""

    def __init__(self, currency: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["amount"] = ReadField(
            partial(parse_amount, currency=currency),
            label=f"Price of the pack before tax, in {currency}",
            missing="Enter the price before tax, such as 84.50.",
            widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        )
        self.fields["valid_from"] = day_field("It holds from")


class EditPriceForm(PriceForm):
    """A price that was written down wrong; the version is its item's."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    @classmethod
    def of(cls, price: Price, currency: str) -> "EditPriceForm":
        """The form filled with a price."""
        amount = f"{to_decimal(price.amount_minor, currency):f}"
        day = price.valid_from.isoformat()
        return cls(currency, initial={"amount": amount, "valid_from": day, "version": price.pack.item.version})


class DayForm(forms.Form):
    """What the price book page shows: the prices of a day, and items that hold the words."""

    q = forms.CharField(
        label="Find by name, key or supplier",
        required=False,
        max_length=100,
        widget=forms.TextInput({"type": "search"}),
    )
    on = ReadField(allowed.iso_day, label="Prices of", widget=forms.DateInput(attrs={"type": "date"}))


class FileForm(forms.Form):
    """A price book as a file."""

    file = forms.FileField(
        label="Price book as CSV or XLSX",
        help_text="At most 2 MB and 20 000 lines.",
        widget=forms.FileInput(attrs={"accept": ".csv,.xlsx"}),
        error_messages={
            "required": "Choose the file.",
            "missing": "Choose the file.",
            "invalid": "Choose the file and send it again.",
            "empty": "The file is empty. Download the price book, fill it in, and send that.",
        },
    )

    def clean_file(self) -> "UploadedFile[bytes]":
        """The file, if it is small enough to be read."""
        file: UploadedFile[bytes] = self.cleaned_data["file"]
        if file.size is None or file.size > MOST_BYTES:
            raise forms.ValidationError("The file has more than 2 MB; part it into several.")
        return file
