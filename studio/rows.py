"""A form with numbered rows of the same fields: layers of a lay-up, coats of a paint, stage payments.

It works without a script: the rows there are, and a few empty ones to fill.
The first field of a row says whether there is a row at all.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from studio.forms import EditForm, NumberField

SPARE = 2


class RowsForm(EditForm):
    """Rows named ``<field>_<number>``. A subclass gives ``row_name``, ``most`` and ``row_fields``.

    ``spare`` is how many empty rows it offers, ``ordered`` whether the rows have an order of their own.
    """

    row_name = "row"
    most = 12
    spare = SPARE
    ordered = True

    def __init__(self, *args: Any, rows: Sequence[Mapping[str, Any]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.given = rows
        self.initial = {"version": 0, **self.initial}
        template = self.row_fields()
        self.leading = next(iter(template))
        self.headings = [str(field.label) for field in template.values()] + (["Order"] if self.ordered else [])
        self.numbers = range(self._how_many())
        for number in self.numbers:
            for name, field in self._fields_of_row(number).items():
                self.fields[f"{name}_{number}"] = field
        for number, row in enumerate(rows):
            self.initial.update({f"{name}_{number}": value for name, value in row.items()})
        for number in self.numbers:
            self.initial[f"order_{number}"] = number + 1

    def row_fields(self) -> dict[str, forms.Field]:
        """Fresh fields of one row, the leading one first."""
        raise NotImplementedError

    def _how_many(self) -> int:
        if not self.is_bound:
            return min(self.most, len(self.given) + self.spare)
        return next((number for number in range(self.most) if f"{self.leading}_{number}" not in self.data), self.most)

    def _fields_of_row(self, number: int) -> dict[str, forms.Field]:
        order = NumberField(wanted="where the row stands, such as 2 or 2.5", low="0", high="999", label="Order")
        fields = {**self.row_fields(), **({"order": order} if self.ordered else {})}
        for field in fields.values():
            field.label = f"{field.label}, {self.row_name} {number + 1}"
            field.widget.attrs["aria-label"] = field.label
            field.required = False
        return fields

    def head(self) -> list[forms.BoundField]:
        """The fields that belong to no row."""
        in_rows = {f"{name}_{number}" for number in self.numbers for name in self._names()}
        return [field for field in self.visible_fields() if field.name not in in_rows]

    def table(self) -> list[list[tuple[str, forms.BoundField]]]:
        """Every row as the page lays it out: heading and field."""
        return [
            list(zip(self.headings, [self[f"{name}_{number}"] for name in self._names()], strict=True))
            for number in self.numbers
        ]

    def _names(self) -> list[str]:
        return [*self.row_fields(), *(["order"] if self.ordered else [])]

    def clean(self) -> dict[str, Any]:
        """Take the rows in their order; a row begun has to be whole, a row whose first field was emptied goes."""
        cleaned = super().clean() or {}
        found: list[tuple[Decimal, int, dict[str, Any]]] = []
        for number in self.numbers:
            row = self._row(number)
            if row is not None:
                found.append((cleaned.get(f"order_{number}") or Decimal(number + 1), number, row))
        self.rows = [row for _, _, row in sorted(found, key=lambda each: each[:2])]
        return cleaned

    def _row(self, number: int) -> dict[str, Any] | None:
        fields = self.row_fields()
        typed = {name: str(self.data.get(f"{name}_{number}", "")).strip() for name in fields}
        was_there = number < len(self.given)
        if not typed[self.leading] and (was_there or not any(typed.values())):
            for name in [*fields, "order"]:
                self.errors.pop(f"{name}_{number}", None)
            return None
        for name, field in fields.items():
            key = f"{name}_{number}"
            if field.required and not typed[name] and key not in self.errors:
                self.add_error(key, field.error_messages["required"])
        return {name: self.value_of(name, number) for name in fields}

    def value_of(self, name: str, number: int) -> Any:
        """What was entered; where the text is as it was shown, the stored value with all its figures."""
        key = f"{name}_{number}"
        if number < len(self.given) and key not in self.changed_data:
            return self.given[number][name]
        return self.cleaned_data.get(key)
