"""A studio's own figure, and a norm of work."""

from typing import Any

from django import forms

from materials.models import Figure, WorkNorm
from studio.forms import CheckedField, EditForm, NumberField


class FigureForm(EditForm):
    """The value in use, and when it was checked."""

    value = NumberField(label="Value in use", wanted="a number, such as 0.15")
    checked_on = CheckedField()

    def __init__(self, data: Any = None, *, figure: Figure) -> None:
        super().__init__(data, initial={"value": figure.value, "version": figure.version})


class BackForm(forms.Form):
    """The version that "back to delivered" was pressed on."""

    version = forms.IntegerField()


class NormForm(EditForm):
    """Least, likely and most hours."""

    low = NumberField(label="At least, hours", wanted="the hours when all goes well, such as 1.5", high="1000")
    likely = NumberField(label="Likely, hours", wanted="the likely hours, such as 2", high="1000")
    high = NumberField(label="At most, hours", wanted="the hours when little goes well, such as 3", high="1000")
    checked_on = CheckedField()

    def __init__(self, data: Any = None, *, norm: WorkNorm) -> None:
        names = ("low", "likely", "high", "version")
        super().__init__(data, initial={name: getattr(norm, name) for name in names})

    def clean(self) -> dict[str, Any]:
        """The three stand in order."""
        cleaned = super().clean() or {}
        low, likely, high = (cleaned.get(name) for name in ("low", "likely", "high"))
        if low is not None and likely is not None and likely < low:
            self.add_error("likely", f"The likely hours are fewer than the least, {low}; enter that or more.")
        if likely is not None and high is not None and high < likely:
            self.add_error("high", f"The most hours are fewer than the likely ones, {likely}; enter that or more.")
        return cleaned
