"""When people work, what they can do, and when they are away."""

from collections.abc import Sequence
from typing import Any

from django import forms

from jobs.models import CrewMember, StageTemplate
from studio.forms import EditForm, NumberField, OneLineField, RowsField, Ticks, day_field
from studio.office.forms import WEEKDAYS


class HoursForm(EditForm):
    """Hours of each weekday, and the stages that somebody can do."""

    stages = RowsField(
        label="Can work at",
        queryset=StageTemplate.objects.all(),
        required=False,
        widget=Ticks,
        error_messages={
            "invalid_choice": "Tick stages from the list.",
            "invalid_pk_value": "Tick stages from the list.",
        },
    )

    def __init__(self, data: Any = None, *, member: CrewMember | None, usual: Sequence[float]) -> None:
        hours = member.hours if member else usual
        begun = {f"hours_{number}": each for number, each in enumerate(hours)}
        begun["version"] = member.version if member else 0
        begun["stages"] = [stage.pk for stage in member.stages.all()] if member else []
        super().__init__(data, initial=begun)
        for number, weekday in enumerate(WEEKDAYS):
            self.fields[f"hours_{number}"] = NumberField(
                label=weekday, wanted="the hours, from 0 to 12, such as 7.5", high="12", decimals=2
            )
        self.order_fields([*(f"hours_{number}" for number in range(len(WEEKDAYS))), "stages"])

    def hours(self) -> list[float]:
        """Hours of the week from Monday."""
        return [float(self.cleaned_data[f"hours_{number}"]) for number in range(len(WEEKDAYS))]


class AbsenceForm(forms.Form):
    """From when until when somebody is away."""

    first = day_field("First day away", missing="Enter the first day away, such as 2026-01-31.")
    last = day_field("Last day away", missing="Enter the last day away, such as 2026-01-31.")
    reason = OneLineField(
        label="Note",
        help_text="Such as leave or a course; nothing of anybody's health belongs here.",
        max_length=80,
        required=False,
    )

    def clean(self) -> dict[str, Any]:
        """The last day is not before the first."""
        cleaned = super().clean() or {}
        first, last = cleaned.get("first"), cleaned.get("last")
        if first and last and last < first:
            self.add_error("last", f"The last day is before {first}; enter that day or a later one.")
        return cleaned
