"""Forms of the studio's own settings."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from studio.forms import EditForm, LinesField, NumberField, PercentField, Ticks, choose, plain_number
from studio.money import MoneyError, minor_digits
from studio.office.models import House, PackMode, ProfitKind, Units
from studio.office.public_holidays import countries, regions
from studio.rows import RowsForm

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


class HouseForm(EditForm):
    """Part of the house's row."""

    def __init__(self, data: Any = None, *, house: House) -> None:
        self.house = house
        super().__init__(data, initial=self.begin_with(house))

    @classmethod
    def begin_with(cls, house: House) -> dict[str, Any]:
        """What the fields show at first."""
        return {name: getattr(house, name) for name in cls.base_fields if hasattr(house, name)}


class MoneyForm(HouseForm):
    """What stands on documents, and how prices are counted."""

    name = forms.CharField(
        label="Name of the studio", max_length=80, error_messages={"required": "Enter the studio's name."}
    )
    address = LinesField(required=False, max_length=500, widget=forms.Textarea(attrs={"rows": 4}))
    email = forms.EmailField(
        required=False, error_messages={"invalid": "Enter an address such as name@example.org, or leave it blank."}
    )
    phone = forms.CharField(required=False, max_length=40)
    registration = forms.CharField(
        label="Company and tax numbers", help_text="As they stand on a quote.", required=False, max_length=160
    )
    currency = forms.CharField(
        help_text="Its code, such as GBP, EUR or USD.",
        error_messages={"required": "Enter the currency's code, such as GBP."},
    )
    currency_sure = forms.BooleanField(
        label="I am changing the currency: no amount in the price book is converted, and I shall enter each again",
        required=False,
    )
    units = forms.ChoiceField(
        label="Units shown", choices=Units.choices, error_messages=choose("Choose metric or US units.")
    )
    tax_name = forms.CharField(
        label="What the tax is called", max_length=20, error_messages={"required": "Enter the tax's name, such as VAT."}
    )
    pack_mode = forms.ChoiceField(
        label="Materials are charged",
        choices=PackMode.choices,
        error_messages=choose("Choose how materials are charged."),
    )
    profit_kind = forms.ChoiceField(
        label="Profit is counted as", choices=ProfitKind.choices, error_messages=choose("Choose margin or mark-up.")
    )
    quote_valid_days = NumberField(
        label="Days that a quote is valid", wanted="the days, from 1 to 365", low="1", high="365", decimals=0
    )

    def clean_currency(self) -> str:
        """The code, known to the standard."""
        code = str(self.cleaned_data["currency"]).upper()
        try:
            minor_digits(code)
        except MoneyError as error:
            raise ValidationError(str(error)) from None
        return code

    def clean_quote_valid_days(self) -> int:
        """The row keeps a whole number."""
        return int(self.cleaned_data["quote_valid_days"])

    def clean(self) -> dict[str, Any]:
        """Ask twice before the meaning of every price changes."""
        cleaned = super().clean() or {}
        sure = cleaned.pop("currency_sure", False)
        was, wanted = self.house.currency, cleaned.get("currency", self.house.currency)
        if wanted != was and not sure:
            self.add_error("currency_sure", f"Tick this to change from {was} to {wanted}, or put {was} back.")
        return cleaned


class WeekForm(HouseForm):
    """Where the studio stands and when it works."""

    country = forms.ChoiceField(
        choices=countries,
        help_text="Its public holidays are days off.",
        error_messages=choose("Choose the country from the list."),
    )
    region = forms.CharField(
        label="Part of the country",
        help_text="Its code, where holidays differ: ENG, SCT, WLS or NIR in the United Kingdom.",
        required=False,
    )
    working_days = forms.TypedMultipleChoiceField(
        label="Working days",
        coerce=int,
        choices=list(enumerate(WEEKDAYS)),
        widget=Ticks,
        error_messages=choose("Tick at least one day."),
    )
    hours_per_day = NumberField(
        label="Hours in a working day",
        wanted="the hours, from 0.5 to 24, such as 7.5",
        low="0.5",
        high="24",
        decimals=2,
    )
    bench_crew = NumberField(
        label="People at work on one commission",
        wanted="how many people, from 1 to 100",
        low="1",
        high="100",
        decimals=0,
    )

    def clean_bench_crew(self) -> int:
        """The row keeps a whole number."""
        return int(self.cleaned_data["bench_crew"])

    def clean(self) -> dict[str, Any]:
        """A part has to be one of its country's."""
        cleaned = super().clean() or {}
        country, region = cleaned.get("country", ""), str(cleaned.get("region", "")).strip()
        parts = regions(country)
        known = {part.upper(): part for part in parts}
        if country and region and region.upper() not in known:
            name = dict(countries())[country]
            told = f"use one of {', '.join(parts)}, or leave it blank" if parts else "leave it blank"
            self.add_error("region", f"“{region[:20]}” is not a part of {name} with holidays of its own; {told}.")
        cleaned["region"] = known.get(region.upper(), "")
        return cleaned


def _text(label: str, hint: str = "") -> LinesField:
    return LinesField(
        label=label, help_text=hint, required=False, max_length=6000, widget=forms.Textarea(attrs={"rows": 7})
    )


class DocumentsForm(HouseForm):
    """What every new quote begins with."""

    included = _text("What the price includes", "One to a line, here and in the next four.")
    assumed = _text("What is assumed")
    excluded = _text("What is not included")
    approvals = _text("What the commissioner approves, in order")
    care = _text("Care of the work")
    terms = _text("Terms")


class PaymentsForm(RowsForm, HouseForm):
    """Stage payments: what each is due on, and its share."""

    row_name = "payment"
    most = 10

    def __init__(self, data: Any = None, *, house: House) -> None:
        rows = [{"label": row["label"], "share": Decimal(row["share"])} for row in house.payment_stages]
        super().__init__(data, house=house, rows=rows)

    def row_fields(self) -> dict[str, forms.Field]:
        """What it is due on, and the share of the price."""
        return {
            "label": forms.CharField(
                label="Due", max_length=120, error_messages={"required": "Enter what the payment is due on."}
            ),
            "share": PercentField(
                label="Share, %", wanted="the share in per cent, such as 30", low="0.001", high="100", decimals=3
            ),
        }

    def clean(self) -> dict[str, Any]:
        """The whole price has to be asked for, and no more."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        if not self.rows:
            raise ValidationError("Enter at least one payment; a single one has a share of 100 %.")
        total = sum(row["share"] for row in self.rows)
        if total != 1:
            raise ValidationError(f"The shares sum to {plain_number(total * 100)} %; make them sum to 100 %.")
        cleaned["payment_stages"] = [{"label": row["label"], "share": plain_number(row["share"])} for row in self.rows]
        return cleaned

    def entered(self) -> dict[str, Any]:
        """The stages alone."""
        return {"payment_stages": self.cleaned_data["payment_stages"]}


class TaxRateForm(forms.Form):
    """A rate, and the day it begins."""

    rate = PercentField(label="Rate, %", wanted="the rate in per cent, such as 20", high="100", decimals=3)
    valid_from = forms.DateField(
        label="In force from",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={
            "required": "Enter the day it begins, such as 2027-04-01.",
            "invalid": "Enter a date such as 2027-04-01.",
        },
    )


class TaxCategoryForm(TaxRateForm):
    """A new category with its first rate."""

    name = forms.CharField(
        label="Name", max_length=40, error_messages={"required": "Enter what the category is called, such as Standard."}
    )

    field_order = ["name", "rate", "valid_from"]
