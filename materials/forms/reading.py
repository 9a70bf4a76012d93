"""A field that reads text by the program's own readers."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError


class ReadField(forms.CharField):
    """Text that a reader turns into a value; what the reader refuses, it says in a sentence of its own."""

    def __init__(self, read: Callable[[str], Any], *, missing: str = "", **kwargs: Any) -> None:
        super().__init__(required=bool(missing), error_messages={"required": missing}, **kwargs)
        self.read = read

    def clean(self, value: Any) -> Any:
        """The value read; None where nothing was typed and nothing is wanted."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return self.read(text)
        except ValueError as refusal:
            raise ValidationError(str(refusal)) from None
