"""A maker's gel times, a row to each temperature and percentage."""

from collections.abc import Sequence
from typing import Any

from django import forms

from materials.estimator.errors import EstimatorError
from materials.estimator.gel import GelReading, GelTable
from materials.models import Item
from studio.forms import CheckedField, NumberField, OneLineField
from studio.rows import RowsForm


class GelTimesForm(RowsForm):
    """Minutes by temperature and percentage; a table without rows is a product without one."""

    row_name = "time"
    most = 60
    spare = 6
    ordered = False

    known_from = OneLineField(
        label="Known from", max_length=160, required=False, help_text="Such as: data sheet, issue 4 of 2025."
    )
    checked_on = CheckedField()

    def __init__(self, data: Any = None, *, item: Item, there: Sequence[GelReading] = ()) -> None:
        self.product = item.name
        rows = [{name: getattr(each, name) for name in ("temperature_c", "percent", "minutes")} for each in there]
        super().__init__(data, rows=rows, initial={"version": item.version, "known_from": item.gel_times_from})

    def row_fields(self) -> dict[str, forms.Field]:
        """One entry of the table."""
        return {
            "temperature_c": NumberField(
                label="Temperature, °C", wanted="the temperature in °C, such as 18", high="60", decimals=1
            ),
            "percent": NumberField(
                label="Percentage", wanted="the catalyst in per cent, such as 2", low="0.1", high="10", decimals=2
            ),
            "minutes": NumberField(
                label="Minutes to the gel", wanted="the minutes to the gel, such as 22", low="0.5", high="1440"
            ),
        }

    def particulars(self) -> dict[str, Any]:
        """What was entered besides the table."""
        return {name: self.cleaned_data[name] for name in ("version", "known_from", "checked_on")}

    def clean(self) -> dict[str, Any]:
        """Read the table as the mix card will."""
        cleaned = super().clean()
        self.readings: tuple[GelReading, ...] = ()
        if not self.errors:
            self.readings = tuple(
                GelReading(*(float(row[name]) for name in ("temperature_c", "percent", "minutes"))) for row in self.rows
            )
            try:
                if self.readings:
                    GelTable(self.product, self.readings)
            except EstimatorError as error:
                self.add_error(None, str(error))
        return cleaned
