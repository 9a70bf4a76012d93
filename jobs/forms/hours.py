"""What is tapped to book hours. Nothing of it is typed."""

import datetime
import uuid
from typing import Any

from django import forms

from jobs.models import Stage
from jobs.queries.hours import bookable_stages
from jobs.services.hours import LONGEST, QUARTER
from studio.accounts.models import User

LOST = "This page lost its place; open it again."


class KeyForm(forms.Form):
    """A form whose tap carries a key of its own."""

    key = forms.UUIDField(widget=forms.HiddenInput, error_messages={"required": LOST, "invalid": LOST})


class BookForm(KeyForm):
    """Who, on what, which day, how long: a length with a tile, another one, and a quarter more or less."""

    person = forms.ModelChoiceField(
        User.objects.filter(is_active=True), error_messages={"required": LOST, "invalid_choice": LOST}
    )
    work_date = forms.DateField(
        widget=forms.HiddenInput, input_formats=["%Y-%m-%d"], error_messages={"required": LOST, "invalid": LOST}
    )
    stage = forms.ModelChoiceField(
        Stage.objects.none(),
        label="What did you work on?",
        error_messages={
            "required": "Tap a section and its stage.",
            "invalid_choice": "That stage is no longer in hand; tap another.",
        },
    )
    minutes = forms.IntegerField(
        label="How long?", required=False, max_value=LONGEST, error_messages={"invalid": "Tap how long it took."}
    )
    length = forms.IntegerField(required=False, max_value=LONGEST)
    quarter = forms.IntegerField(required=False, min_value=-QUARTER, max_value=QUARTER)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        chosen: Any = self.fields["stage"]
        chosen.queryset = bookable_stages()

    def clean(self) -> dict[str, Any]:
        """Add up the length; another length chosen from the list stands before a tile."""
        cleaned = super().clean() or {}
        if not {"minutes", "length", "quarter"} & self.errors.keys():
            base = cleaned.get("length") or cleaned.get("minutes") or 0
            cleaned["minutes"] = base + (cleaned.get("quarter") or 0)
            if cleaned["minutes"] < QUARTER:
                self.add_error("minutes", "Tap how long it took.")
        return cleaned


class UndoForm(KeyForm):
    """Takes back what was booked under another key."""

    of = forms.UUIDField(widget=forms.HiddenInput, error_messages={"required": LOST, "invalid": LOST})


class ClockForm(forms.Form):
    """Whose clock."""

    person = forms.ModelChoiceField(
        User.objects.filter(is_active=True), error_messages={"required": LOST, "invalid_choice": LOST}
    )


class StartForm(ClockForm):
    """Starts a clock on a stage."""

    stage = forms.ModelChoiceField(
        Stage.objects.none(),
        label="What did you work on?",
        error_messages={
            "required": "Tap a section and its stage, then start the clock.",
            "invalid_choice": "That stage is no longer in hand; tap another.",
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        chosen: Any = self.fields["stage"]
        chosen.queryset = bookable_stages()


class StopForm(ClockForm):
    """Stops or throws away a clock; a forgotten one says when it was left."""

    clock = forms.IntegerField(min_value=1, max_value=2**63 - 1, error_messages={"required": LOST, "invalid": LOST})
    left_at = forms.CharField(required=False, max_length=40)

    def clean_left_at(self) -> datetime.datetime | None:
        """The moment chosen; the service holds it to the quarter hours there are."""
        typed = self.cleaned_data["left_at"]
        if not typed:
            return None
        try:
            moment = datetime.datetime.fromisoformat(typed)
        except ValueError as error:
            raise forms.ValidationError("Tap the quarter hour at which you stopped.") from error
        if moment.tzinfo is None:
            raise forms.ValidationError("Tap the quarter hour at which you stopped.")
        return moment


def new_key() -> uuid.UUID:
    """A key for one tap."""
    return uuid.uuid4()
