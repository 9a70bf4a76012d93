"""Choosing labels to print, and the measures of a sheet of labels."""

from typing import Any

from django import forms

from jobs.delivery.label_codes import CAST, CRATE, PIECE
from jobs.forms.own_rows import OwnRowForm
from jobs.models import LabelPaper, LabelStock, Section
from studio.forms import NumberField, OneLineField, RowsField, choose

KINDS = [(CAST, "Casts"), (PIECE, "Mould pieces"), (CRATE, "Crates")]


class LabelsForm(forms.Form):
    """Which labels, on which sheet, from which place."""

    kinds = forms.MultipleChoiceField(
        label="Labels for",
        choices=KINDS,
        widget=forms.CheckboxSelectMultiple,
        error_messages=choose("Choose casts, mould pieces or crates."),
    )
    sections = RowsField(
        Section.objects.none(),
        label="Sections",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "Choose one section or more.",
            "invalid_choice": "Choose sections of this commission.",
            "invalid_pk_value": "Choose sections of this commission.",
            "invalid_list": "Choose sections of this commission.",
        },
    )
    stock = forms.ModelChoiceField(
        LabelStock.objects.all(),
        label="Sheet of labels",
        empty_label=None,
        error_messages=choose("Choose a sheet of labels."),
    )
    first = NumberField(
        label="First free place on the sheet",
        help_text="Counted along the rows from the upper left, so that a sheet already begun is used up.",
        wanted="the number of the first free place, such as 1",
        low="1",
        high="800",
        decimals=0,
    )

    def __init__(self, sections: Any, data: Any, *, units: str) -> None:
        super().__init__(data or self.usual(sections, units))
        self.fields["sections"].queryset = sections  # type: ignore[attr-defined]

    @staticmethod
    def usual(sections: Any, units: str) -> dict[str, Any]:
        """What is chosen before anybody chooses: everything but crates, on the first sheet of the studio's paper."""
        paper = LabelPaper.LETTER if units == "us" else LabelPaper.A4
        stock = LabelStock.objects.filter(paper=paper).first() or LabelStock.objects.first()
        chosen = {"kinds": [CAST, PIECE], "sections": [row.pk for row in sections], "first": "1"}
        return {**chosen, "stock": stock.pk if stock else None}


class LabelStockForm(OwnRowForm):
    """The measures of a sheet of labels, in millimetres."""

    name = OneLineField(
        label="Name", max_length=60, error_messages={"required": "Enter a name, such as A4, 3 across and 8 down."}
    )
    paper = forms.ChoiceField(choices=LabelPaper.choices, error_messages=choose("Choose the paper."))
    columns = NumberField(label="Labels across", wanted="how many labels lie side by side", low="1", decimals=0)
    rows = NumberField(label="Labels down", wanted="how many labels lie below each other", low="1", decimals=0)
    width_mm = NumberField(label="Width of a label, mm", wanted="the width in mm, such as 63.5", high="420")
    height_mm = NumberField(label="Height of a label, mm", wanted="the height in mm, such as 38.1", high="420")
    left_mm = NumberField(
        label="Paper's left edge to the first label, mm", wanted="the distance in mm, 0 or more", high="100"
    )
    top_mm = NumberField(
        label="Paper's top edge to the first label, mm", wanted="the distance in mm, 0 or more", high="100"
    )
    across_mm = NumberField(
        label="Left edge of a label to that of the next, mm", wanted="the distance in mm, such as 66", high="420"
    )
    down_mm = NumberField(
        label="Top edge of a label to that of the next, mm", wanted="the distance in mm, such as 38.1", high="420"
    )
