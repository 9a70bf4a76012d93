"""What the forms of the office's own lists share."""

from collections.abc import Mapping
from typing import Any

from jobs.models import OwnRow
from materials.units import Kind, System
from studio.forms import CheckedField, EditForm, OneLineField
from studio.quantities import QuantityField


class OwnRowForm(EditForm):
    """The fields are those of the row, in its order; quantities are typed with their unit."""

    quantities: Mapping[str, Kind] = {}
    may_be_left: tuple[str, ...] = ()

    source = OneLineField(label="Known from", max_length=160, required=False)
    checked_on = CheckedField()

    def __init__(self, data: Any = None, *, row: OwnRow, system: System) -> None:
        super().__init__(data, initial={"version": row.version})
        self.own_columns = {column.name: column for column in row._meta.concrete_fields}
        for name, kind in self.quantities.items():
            column = self.own_columns[name]
            label, example = str(column.verbose_name), "1200 kg" if kind == "mass" else "2.1 m"
            self.fields[name] = QuantityField(
                kind=kind,
                system=system,
                label=label.capitalize(),
                help_text=column.help_text,
                required=name not in self.may_be_left,
                error_messages={"required": f"Enter the {label.lower()} with its unit, such as {example}."},
            )
        self.order_fields([name for name in self.own_columns if name not in OwnRowForm.base_fields])
        if row.pk is not None:
            names = [name for name in self.fields if name != "checked_on"]
            self.initial.update({name: getattr(row, name) for name in names})

    def values(self) -> Mapping[str, Any]:
        """What was entered, by the row's own fields; what reads as it was shown keeps all its figures."""
        return {
            name: self.initial[name]
            if name in self.initial and name not in self.changed_data
            else self.own_columns[name].to_python(value)
            for name, value in self.entered().items()
        }
