"""A sling, and the base of a commission."""

from typing import Any

from django import forms

from jobs.models import CommissionBase, Sling, SlingKind
from jobs.services.lifting import BASE_FIELDS, SLING_FIELDS
from studio.forms import EditForm, LinesField, NumberField, OneLineField, choose
from studio.quantities import QuantityField, system_of


class SlingForm(EditForm):
    """What stands on a sling's label, and when it is examined next."""

    mark = OneLineField(
        label="Mark", max_length=40, error_messages={"required": "Enter the mark that is on the sling, such as S7."}
    )
    kind = forms.ChoiceField(choices=SlingKind.choices, error_messages=choose("Choose what the sling is made of."))
    legs = NumberField(label="Legs", wanted="how many legs it has, 1 to 4", low="1", high="4", decimals=0)
    capacity_kg = QuantityField(
        kind="mass",
        system="metric",
        label="Working load limit of one leg, straight",
        help_text="As on its label, such as 1 t. A sling without a label is taken out of use.",
        error_messages={"required": "Enter the limit on its label, such as 1 t."},
    )
    length_m = QuantityField(
        kind="length",
        system="metric",
        label="Working length of a leg",
        error_messages={"required": "Enter its working length, such as 2 m."},
    )
    examined_until = forms.DateField(
        label="Next thorough examination",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
        help_text="In the United Kingdom every six months (LOLER 1998, regulation 9).",
        error_messages={"invalid": "Enter a day such as 2027-03-31, or leave it blank."},
    )

    def __init__(self, data: Any = None, *, row: Sling | None = None, units: str) -> None:
        initial: dict[str, Any] = (
            {name: getattr(row, name) for name in (*SLING_FIELDS, "version")} if row else {"version": 0}
        )
        if row and row.examined_until:
            initial["examined_until"] = row.examined_until.isoformat()
        super().__init__(data, initial=initial)
        for name in ("capacity_kg", "length_m"):
            self.fields[name].system = system_of(units)  # type: ignore[attr-defined]

    def values(self) -> dict[str, Any]:
        """What was entered, as the row keeps it."""
        return {**self.entered(), "legs": int(self.cleaned_data["legs"])}


class BaseForm(EditForm):
    """The plate with its holes and legs."""

    length = forms.CharField(
        label="Length of the plate",
        max_length=40,
        help_text="Along x, across the front.",
        error_messages={"required": "Enter the length, such as 600 mm."},
    )
    width = forms.CharField(
        label="Width of the plate",
        max_length=40,
        help_text="Along y, front to back.",
        error_messages={"required": "Enter the width, such as 600 mm."},
    )
    thickness = forms.CharField(
        label="Thickness of the plate",
        max_length=40,
        error_messages={"required": "Enter the thickness, such as 15 mm."},
    )
    mass = forms.CharField(
        label="Mass of the base",
        max_length=40,
        help_text="Plate, legs and fittings that stay on it.",
        error_messages={"required": "Enter the mass, such as 45 kg."},
    )
    bolts = LinesField(
        label="Holes",
        max_length=2000,
        help_text="One a line: x, y and the bolt in mm, from the middle of the plate, such as 250 -250 16.",
        error_messages={"required": "Enter one hole a line, such as 250 -250 16."},
    )
    legs = LinesField(
        label="Legs on the plate",
        max_length=2000,
        required=False,
        help_text="One a line: x, y and size in mm, lean from the upright and which way in degrees (0 is along x, "
        "90 to the back), such as 120 0 60 15 0.",
    )

    def __init__(self, data: Any = None, *, row: CommissionBase | None) -> None:
        initial = {name: getattr(row, name) for name in (*BASE_FIELDS, "version")} if row else {"version": 0}
        super().__init__(data, initial=initial)
