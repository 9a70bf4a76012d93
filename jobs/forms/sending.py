"""A door, a vehicle, a limit of the road: the form of each."""

from typing import Any

from django import forms

from jobs.delivery.road import MEASURES
from jobs.forms.own_rows import OwnRowForm
from studio.forms import OneLineField, choose

NAMES = {"required": "Enter a name, such as Yard gate."}


class DoorwayForm(OwnRowForm):
    """A door by its clear opening."""

    quantities = {"width_m": "length", "height_m": "length"}
    name = OneLineField(label="Name", max_length=60, error_messages=NAMES)


class TransportForm(OwnRowForm):
    """A van, lorry or container."""

    quantities = {
        "length_m": "length",
        "width_m": "length",
        "height_m": "length",
        "door_width_m": "length",
        "door_height_m": "length",
        "payload_kg": "mass",
        "deck_m": "length",
        "overall_width_m": "length",
    }
    may_be_left = ("door_width_m", "door_height_m")
    name = OneLineField(label="Name", max_length=60, error_messages=NAMES)
    is_open = forms.BooleanField(label="Open: the load may stand out", required=False)

    def clean(self) -> dict[str, Any]:
        """A door has a width and a height, or there is none."""
        cleaned = super().clean() or {}
        if not self.errors and (cleaned["door_width_m"] is None) != (cleaned["door_height_m"] is None):
            left = "door_width_m" if cleaned["door_width_m"] is None else "door_height_m"
            self.add_error(left, "Enter both measures of its door, or neither where the load is lifted on.")
        return cleaned


class RoadLimitForm(OwnRowForm):
    """One step of a limit."""

    quantities = {"above_m": "length"}
    measure = forms.ChoiceField(
        label="What is measured", choices=list(MEASURES.items()), error_messages=choose("Choose what is measured.")
    )
    action = OneLineField(
        label="What is to be done",
        max_length=200,
        error_messages={"required": "Enter what is to be done, such as: Put marker boards on the end."},
    )
