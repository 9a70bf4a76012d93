"""A field for a quantity with its unit, as people type it."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from materials.estimator.errors import EstimatorError
from materials.units import Kind, System, format_quantity, parse


def system_of(units: str) -> System:
    """The system of units by the word that the house keeps."""
    return "us" if units == "us" else "metric"


class QuantityField(forms.CharField):
    """Text such as "450 g/m²" in, an SI number out; what is stored is shown in the house's units."""

    def __init__(self, *, kind: Kind, system: System, allow_zero: bool = False, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 40)
        super().__init__(**kwargs)
        self.kind, self.system, self.allow_zero = kind, system, allow_zero

    def clean(self, value: Any) -> float | None:
        """The quantity in the base unit of its kind, or None where nothing was typed and nothing is needed."""
        typed = str(super().clean(value))
        if not typed:
            return None
        try:
            return parse(typed, self.kind, str(self.label).partition(",")[0], allow_zero=self.allow_zero)
        except EstimatorError as error:
            raise ValidationError(str(error)) from None

    def prepare_value(self, value: Any) -> Any:
        """The stored number as it would be typed."""
        if isinstance(value, float):
            return format_quantity(value, self.kind, self.system).replace("\u00a0", " ")
        return value

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether the text differs from what the field was opened with."""
        return super().has_changed(self.prepare_value(initial), data)
