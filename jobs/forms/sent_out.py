"""Sent-out work: what, by whom, when, and for how much."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.models import Commission, SentOutWork
from jobs.services.sent_out import Particulars
from studio.forms import EditForm, OneLineField, choose, day_field
from studio.money import MoneyError, parse_amount, to_decimal

DAYS = ("ordered_on", "due_back", "out_on", "back_on")


class AmountOfMoney(forms.CharField):
    """An amount before tax in one currency, as people type it."""

    def __init__(self, currency: str, **kwargs: Any) -> None:
        super().__init__(max_length=40, widget=forms.TextInput(attrs={"inputmode": "decimal"}), **kwargs)
        self.currency = currency

    def clean(self, value: Any) -> int | None:
        """Minor units, or None where nothing was typed and nothing is needed."""
        typed = str(super().clean(value))
        try:
            return parse_amount(typed, self.currency) if typed else None
        except MoneyError as error:
            raise ValidationError(str(error)) from None


class SentOutForm(EditForm):
    """A piece of sent-out work as it is ordered, and as it goes on."""

    what = OneLineField(
        label="What is done",
        help_text="Such as galvanising of the inner frame.",
        max_length=160,
        error_messages={"required": "Enter what is done, such as galvanising of the inner frame."},
    )
    firm = OneLineField(
        label="By which firm", max_length=120, error_messages={"required": "Enter the firm that does it."}
    )
    stage = forms.ChoiceField(
        label="For which stage", required=False, error_messages=choose("Choose a stage from the list.")
    )
    ordered_on = day_field("Ordered on", missing="Enter the day it was ordered.")
    due_back = day_field("Due back")
    out_on = day_field("Went out on")
    back_on = day_field("Came back on")

    def __init__(self, commission: Commission, currency: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stages = commission.stages.select_related("section").order_by("section__position", "position")
        self.stages = {str(stage.pk): stage for stage in stages}
        offered = [(key, str(stage)) for key, stage in self.stages.items()]
        self.fields["stage"].choices = [("", "the commission as a whole"), *offered]  # type: ignore[attr-defined]
        self.fields["agreed_minor"] = AmountOfMoney(
            currency,
            label=f"Price agreed before tax, in {currency}",
            error_messages={"required": "Enter the price agreed before tax, such as 420.00."},
        )
        self.fields["charged_minor"] = AmountOfMoney(
            currency, label=f"Price charged before tax, in {currency}", required=False
        )

    @classmethod
    def of(cls, work: SentOutWork, *args: Any) -> "SentOutForm":
        """The form filled with a row, or bound to what was sent."""
        names = ("what", "firm", "version", *DAYS)
        initial: dict[str, Any] = {name: getattr(work, name) for name in names}
        initial["stage"] = str(work.stage_id or "")
        initial["agreed_minor"] = _shown(work.agreed_minor, work.currency)
        initial["charged_minor"] = _shown(work.charged_minor, work.currency)
        return cls(work.commission, work.currency, *args, initial=initial)

    def particulars(self) -> Particulars:
        """What was entered."""
        data = self.cleaned_data
        return Particulars(
            what=data["what"],
            firm=data["firm"],
            stage=self.stages.get(data["stage"]),
            agreed_minor=data["agreed_minor"],
            charged_minor=data["charged_minor"],
            **{name: data[name] for name in DAYS},
        )


def _shown(minor: int | None, currency: str) -> str:
    return "" if minor is None else f"{to_decimal(minor, currency):f}"
