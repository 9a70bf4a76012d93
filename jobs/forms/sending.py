"""A door, a vehicle, a limit of the road: the form of each."""

from collections.abc import Mapping
from typing import Any

from django import forms

from jobs.delivery.road import MEASURES
from jobs.models import Way
from materials.units import Kind, System
from studio.forms import EditForm, OneLineField, choose
from studio.quantities import QuantityField

NAMES = {"required": "Enter a name, such as Yard gate."}


class WayForm(EditForm):
    """What the three forms share: the fields are those of the row, and quantities are typed with their unit."""

    quantities: Mapping[str, Kind] = {}
    may_be_left: tuple[str, ...] = ()

    def __init__(self, data: Any = None, *, row: Way, system: System) -> None:
        super().__init__(data, initial={"version": row.version})
        labels = {field.name: str(field.verbose_name).capitalize() for field in row._meta.concrete_fields}
        for name, kind in self.quantities.items():
            example = "1200 kg" if kind == "mass" else "2.1 m"
            self.fields[name] = QuantityField(
                kind=kind,
                system=system,
                label=labels[name],
                required=name not in self.may_be_left,
                error_messages={"required": f"Enter the {labels[name].lower()} with its unit, such as {example}."},
            )
        order = [name for name in labels if name in self.fields]
        self.order_fields(order)
        if row.pk is not None:
            self.initial.update({name: getattr(row, name) for name in order})

    def values(self) -> Mapping[str, Any]:
        """What was entered, by the row's own fields; what reads as it was shown keeps all its figures."""
        return {
            name: self.initial[name] if name in self.initial and name not in self.changed_data else value
            for name, value in self.entered().items()
        }


class DoorwayForm(WayForm):
    """A door by its clear opening."""

    quantities = {"width_m": "length", "height_m": "length"}
    name = OneLineField(label="Name", max_length=60, error_messages=NAMES)


class TransportForm(WayForm):
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
    source = OneLineField(label="Known from", max_length=160, required=False)

    def clean(self) -> dict[str, Any]:
        """A door has a width and a height, or there is none."""
        cleaned = super().clean() or {}
        if not self.errors and (cleaned["door_width_m"] is None) != (cleaned["door_height_m"] is None):
            left = "door_width_m" if cleaned["door_width_m"] is None else "door_height_m"
            self.add_error(left, "Enter both measures of its door, or neither where the load is lifted on.")
        return cleaned


class RoadLimitForm(WayForm):
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
    source = OneLineField(label="Known from", max_length=160, required=False)
    as_of = forms.DateField(
        label="Holds as of",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={
            "required": "Enter the day on which you looked it up.",
            "invalid": "Enter a day such as 2026-03-31.",
        },
    )
