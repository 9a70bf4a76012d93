"""A sling, and the base of a commission."""

from typing import Any

from django import forms

from jobs.forms.own_rows import OwnRowForm
from jobs.models import CommissionBase, SlingKind
from jobs.services.bases import BASE_FIELDS
from studio.forms import EditForm, LinesField, NumberField, OneLineField, choose, day_field


class SlingForm(OwnRowForm):
    """What stands on a sling's label, and when it is examined next."""

    quantities = {"capacity_kg": "mass", "length_m": "length"}
    mark = OneLineField(
        label="Mark", max_length=40, error_messages={"required": "Enter the mark that is on the sling, such as S7."}
    )
    kind = forms.ChoiceField(choices=SlingKind.choices, error_messages=choose("Choose what the sling is made of."))
    legs = NumberField(label="Legs", wanted="how many legs it has, 1 to 4", low="1", high="4", decimals=0)
    examined_until = day_field(
        "Next thorough examination", "In the United Kingdom every six months (LOLER 1998, regulation 9)."
    )


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
