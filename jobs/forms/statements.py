"""Marking a payment as asked for or paid, and setting what is kept back."""

import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.figures.statement import Statement
from jobs.forms.issues import LOST
from jobs.models import Happened, Retention
from jobs.services.statements import Mark
from studio.forms import EditForm, OneLineField, PercentField, choose, day_field
from studio.money import MoneyError, parse_amount


class MarkForm(forms.Form):
    """One thing that happened to one payment."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages=dict.fromkeys(("required", "invalid"), LOST)
    )
    payment = forms.ChoiceField(label="Payment", error_messages=choose("Choose one of the payments in the list."))
    happened = forms.ChoiceField(
        label="What happened", choices=Happened.choices, error_messages=choose("Choose asked for or paid.")
    )
    on = day_field("On", missing="Enter the day on which it was asked for or paid.")
    amount = OneLineField(
        label="Amount",
        help_text="Blank takes all that is open of it.",
        required=False,
        max_length=40,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    note = OneLineField(label="Note", help_text="Such as the invoice's number.", required=False, max_length=160)

    def __init__(self, data: Any = None, *, statement: Statement, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.statement = statement
        self.fields["payment"].choices = [  # type: ignore[attr-defined]
            (each.due.key, each.due.label) for each in statement.accounts
        ]

    def clean_amount(self) -> int | None:
        """Minor units, or None for all that is open."""
        typed = self.cleaned_data["amount"]
        if not typed:
            return None
        try:
            return parse_amount(typed, self.statement.currency, signed=True)
        except MoneyError as error:
            raise ValidationError(str(error)) from None

    def mark(self) -> Mark:
        """What is to be written."""
        given = self.cleaned_data
        account = next(each for each in self.statement.accounts if each.due.key == given["payment"])
        happened = Happened(given["happened"])
        is_open = account.to_ask_minor if happened == Happened.ASKED else account.to_pay_minor
        amount = is_open if given["amount"] is None else given["amount"]
        return Mark(given["payment"], happened, given["on"], amount, given["note"])


class RetentionForm(EditForm):
    """What the commissioner keeps back of every payment."""

    share = PercentField(
        label="Kept back of every payment, %",
        help_text="Usually 0 to 5. Half is released at completion, half once defects are made good.",
        wanted="the share in per cent, such as 3",
        high="20",
        decimals=2,
    )

    def __init__(self, data: Any = None, *, retention: Retention | None) -> None:
        share, version = (retention.share, retention.version) if retention else (0, 0)
        super().__init__(data, initial={"share": share, "version": version})
