"""A commission's particulars."""

from typing import Any

from django import forms

from jobs.models import Commission
from studio.forms import OneLineField


class CommissionForm(forms.Form):
    """What is made, for whom, for where."""

    title = OneLineField(max_length=120, error_messages={"required": "Enter what the work is called."})
    commissioner = OneLineField(max_length=120, error_messages={"required": "Enter who orders it."})
    contact = OneLineField(label="Contact person", max_length=120, required=False)
    email = forms.EmailField(
        label="Email",
        required=False,
        error_messages={"invalid": "Enter an address such as name@example.org, or leave it blank."},
    )
    address = forms.CharField(max_length=500, required=False, widget=forms.Textarea(attrs={"rows": 3}))
    place = OneLineField(label="Where it will stand", max_length=200, required=False)
    description = forms.CharField(
        label="What it is, as the quote will say it",
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    model_revision = OneLineField(
        label="Drawing or model priced", help_text="With its revision or date.", max_length=120, required=False
    )
    colour = OneLineField(
        label="Colours",
        help_text="With system and reference, such as RAL 6011 and RAL 1015.",
        max_length=200,
        required=False,
    )
    needed_by = forms.DateField(
        label="Needed by",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={"invalid": "Enter a date such as 2027-05-14, or leave it blank."},
    )
    version = forms.IntegerField(widget=forms.HiddenInput, initial=0, required=False)

    @classmethod
    def of(cls, commission: Commission) -> "CommissionForm":
        """The form filled with a commission."""
        names = [name for name in cls.base_fields if name != "version"]
        return cls(initial={name: getattr(commission, name) for name in [*names, "version"]})

    def particulars(self) -> dict[str, Any]:
        """What was entered, without the version."""
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}
