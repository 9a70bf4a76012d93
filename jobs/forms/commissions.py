"""A commission's particulars."""

import datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.figures.moments import day_words
from jobs.models import Commission
from studio.forms import OneLineField, day_field, near_day

MOST_DAYS = 60


class DaysField(forms.CharField):
    """Days typed one after another, with spaces, commas or new lines between; kept as dates in plain text."""

    def clean(self, value: Any) -> list[str]:
        """The days in their order, each once."""
        typed = str(super().clean(value)).replace(",", " ").split()
        if len(typed) > MOST_DAYS:
            raise ValidationError(f"{len(typed)} days are too many; enter {MOST_DAYS} at most.")
        return sorted({_day(each).isoformat() for each in typed})

    def prepare_value(self, value: Any) -> Any:
        """The days as they are typed."""
        return ", ".join(value) if isinstance(value, list) else value


def _day(typed: str) -> datetime.date:
    try:
        day = datetime.date.fromisoformat(typed)
    except ValueError:
        message = f"“{typed[:40]}” is not a day; enter days such as 2027-05-14, 2027-05-15."
        raise ValidationError(message) from None
    return near_day(day)


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
    needed_by = day_field("Needed by")
    site_from = day_field(
        "The site takes it from", "The first day for delivery: the crane is booked, the ground is free."
    )
    site_until = day_field("The site takes it until", "The last day on which it may be delivered and stood up.")
    site_shut = DaysField(
        label="Days on which the site takes nothing",
        help_text="Such as a market day: 2027-05-14, 2027-05-18.",
        max_length=900,
        required=False,
    )
    version = forms.IntegerField(widget=forms.HiddenInput, initial=0, required=False)

    def __init__(self, data: Any = None, *, days_varied: int = 0, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.days_varied = days_varied

    @classmethod
    def of(cls, commission: Commission) -> "CommissionForm":
        """The form filled with a commission."""
        names = [name for name in cls.base_fields if name != "version"]
        return cls(initial={name: getattr(commission, name) for name in [*names, "version"]})

    def clean(self) -> dict[str, Any]:
        """The days of the site, in their order and with the day it is needed."""
        cleaned = super().clean() or {}
        first, last, needed = (cleaned.get(name) for name in ("site_from", "site_until", "needed_by"))
        due = needed + datetime.timedelta(days=self.days_varied) if needed else None
        if first and last and last < first:
            self.add_error("site_until", f"That is before the first day, {day_words(first)}; give a later one.")
        if due and first and first > due:
            said = f"It is needed by {day_words(due)}, before the site takes it; move one of the two days."
            self.add_error("site_from", said)
        elif due and last and last > due:
            said = (
                f"It is needed by {day_words(due)}; give that day or an earlier one, or move the day it is needed by."
            )
            self.add_error("site_until", said)
        beyond = [day for day in cleaned.get("site_shut") or () if _is_beyond(day, first, last)]
        if beyond:
            self.add_error("site_shut", f"{', '.join(beyond)} lies outside the days on which the site takes it.")
        return cleaned

    def particulars(self) -> dict[str, Any]:
        """What was entered, without the version."""
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}


def _is_beyond(day: str, first: datetime.date | None, last: datetime.date | None) -> bool:
    return bool((first and day < first.isoformat()) or (last and day > last.isoformat()))
