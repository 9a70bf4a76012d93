"""The terms of a draft, and the answer to an issued version."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.models import Decision, Quote
from jobs.services.drafts import TEXTS
from studio.forms import LinesField, NumberField, PercentField, choose, plain_number
from studio.office.models import PackMode, ProfitKind, TaxCategory
from studio.rows import RowsForm

MOST = {ProfitKind.MARGIN: Decimal("0.95"), ProfitKind.MARKUP: Decimal(5)}


def check_profit(form: forms.Form, cleaned: dict[str, Any]) -> None:
    """A margin has a lower limit than a mark-up; say so beside the rate."""
    kind, rate = cleaned.get("profit_kind"), cleaned.get("profit_rate")
    if kind and rate is not None and rate > MOST[ProfitKind(kind)]:
        most = plain_number(MOST[ProfitKind(kind)] * 100)
        form.add_error(
            "profit_rate", f"A {ProfitKind(kind).label.partition(':')[0].lower()} is {most} % at most; enter less."
        )


def _text(label: str, hint: str = "") -> LinesField:
    return LinesField(
        label=label, help_text=hint, required=False, max_length=6000, widget=forms.Textarea(attrs={"rows": 6})
    )


class TermsForm(RowsForm):
    """All of a draft that is not its sections, with the stage payments as rows."""

    row_name = "payment"
    most = 10

    profit_kind = forms.ChoiceField(label="Profit is counted as", choices=ProfitKind.choices)
    profit_rate = PercentField(
        label="Margin or mark-up, %", wanted="the rate in per cent, such as 18", high="500", decimals=2
    )
    contingency = PercentField(
        label="Contingency, %", wanted="the contingency in per cent, such as 7.5", high="90", decimals=2
    )
    pack_mode = forms.ChoiceField(label="Materials are charged", choices=PackMode.choices)
    tax_category = forms.ModelChoiceField(
        TaxCategory.objects.all(),
        label="Tax",
        empty_label=None,
        error_messages=choose("Choose one of the taxes in the list."),
    )
    valid_days = NumberField(
        label="Days that it is valid", wanted="the days, from 1 to 365", low="1", high="365", decimals=0
    )
    programme_weeks = NumberField(
        label="Programme, weeks",
        help_text="Blank takes what the hours and holds come to.",
        wanted="whole weeks from 1 to 520, or leave it blank",
        low="1",
        high="520",
        decimals=0,
        required=False,
    )
    included = _text("What the price includes", "One to a line, here and in the next four.")
    assumed = _text("What is assumed")
    excluded = _text("What is not included")
    approvals = _text("What the commissioner approves, in order")
    care = _text("Care of the work")
    terms = _text("Terms")

    def __init__(self, *args: Any, draft: Quote, **kwargs: Any) -> None:
        rows = [{"label": row["label"], "share": Decimal(row["share"])} for row in draft.payment_stages]
        initial = {name: getattr(draft, name) for name in self.base_fields if hasattr(draft, name)}
        initial |= {"version": draft.version, "tax_category": draft.commission.tax_category_id}
        super().__init__(*args, initial=initial, rows=rows, **kwargs)

    def row_fields(self) -> dict[str, forms.Field]:
        """What a payment is due on, and its share of the price."""
        return {
            "label": forms.CharField(
                label="Due", max_length=120, error_messages={"required": "Enter what the payment is due on."}
            ),
            "share": PercentField(
                label="Share, %", wanted="the share in per cent, such as 30", low="0.001", high="100"
            ),
        }

    def figures(self) -> list[forms.BoundField]:
        """The fields that make the price."""
        return [field for field in self.head() if field.name not in TEXTS]

    def texts(self) -> list[forms.BoundField]:
        """The fields that are printed as they stand."""
        return [self[name] for name in TEXTS]

    def clean_valid_days(self) -> int:
        """A whole number."""
        return int(self.cleaned_data["valid_days"])

    def clean_programme_weeks(self) -> int | None:
        """A whole number, or what the hours come to."""
        weeks = self.cleaned_data["programme_weeks"]
        return None if weeks is None else int(weeks)

    def clean(self) -> dict[str, Any]:
        """The whole price has to be asked for, and no more."""
        cleaned = super().clean()
        check_profit(self, cleaned)
        if self.errors:
            return cleaned
        if not self.rows:
            raise ValidationError("Enter at least one payment; a single one has a share of 100 %.")
        total = sum(row["share"] for row in self.rows)
        if total != 1:
            raise ValidationError(f"The payments sum to {plain_number(total * 100)} %; make them sum to 100 %.")
        return cleaned

    def entered(self) -> dict[str, Any]:
        """The terms as the draft keeps them, and the tax."""
        names = [field.name for field in self.head()]
        stages = [{"label": row["label"], "share": plain_number(row["share"])} for row in self.rows]
        return {name: self.cleaned_data[name] for name in names} | {"payment_stages": stages}


class AnswerForm(forms.Form):
    """What the commissioner said, and who."""

    decision = forms.ChoiceField(
        label="The answer",
        choices=Decision.choices,
        widget=forms.RadioSelect,
        error_messages=choose("Choose whether it was accepted or declined."),
    )
    said_by = forms.CharField(
        label="Who said so", max_length=120, error_messages={"required": "Enter who gave the answer, and for whom."}
    )
    note = LinesField(
        label="Note",
        help_text="Such as the order number, or why it was declined.",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
