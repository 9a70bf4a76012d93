"""Fields that read numbers as people type them, and a form that knows which version it was opened on."""

import datetime
import re
from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

_PLAIN = re.compile(r"[0-9]{1,12}(?:[.,][0-9]{1,20})?")
# A thousand with its comma, or a little over one with three decimals: both are written.
_EITHER = re.compile(r"([1-9][0-9]{0,2}),([0-9]{3})")


def plain_number(value: float | Decimal) -> str:
    """A number as it is put into a field: every figure it has, and no exponent."""
    exact = Decimal(repr(float(value))) if isinstance(value, float) else Decimal(value)
    text = f"{exact:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def choose(told: str) -> dict[str, str]:
    """The messages of a field that is chosen from: nothing chosen, or something that is not offered."""
    return {"required": told, "invalid_choice": told}


FIRST_DAY, LAST_DAY = datetime.date(2000, 1, 1), datetime.date(2100, 12, 31)
"""No work has days outside these; one that is typed there is a slip."""


def near_day(day: datetime.date) -> datetime.date:
    """The day, if it is one that work may have."""
    if not FIRST_DAY <= day <= LAST_DAY:
        raise ValidationError(f"{day} is too far off; enter a day from {FIRST_DAY} to {LAST_DAY}.")
    return day


class DayField(forms.DateField):
    """A day that work may have."""

    def to_python(self, value: Any) -> datetime.date | None:
        """The day, or None where nothing was typed."""
        day = super().to_python(value)
        return None if day is None else near_day(day)


def day_field(label: str, hint: str = "", missing: str = "") -> DayField:
    """A field for a day; it may be left empty where ``missing`` says nothing."""
    return DayField(
        label=label,
        help_text=hint,
        required=bool(missing),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={
            "required": missing,
            "invalid": "Enter a day as year, month and day, such as 2026-01-31.",
        },
    )


class CheckedField(forms.DateField):
    """The day on which a figure was last checked: today where it is left empty, and never a day to come."""

    def __init__(self) -> None:
        super().__init__(
            label="Checked on",
            help_text="When you last held it against what it is known from. Today, if you leave it empty.",
            required=False,
            initial=timezone.localdate,
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": "Enter a day as year, month and day, such as 2026-01-31."},
        )

    def clean(self, value: Any) -> datetime.date:
        """The day."""
        today = timezone.localdate()
        day: datetime.date = super().clean(value) or today
        if day > today:
            raise ValidationError(f"{day} is still to come; enter today or the day on which you looked.")
        return day


class RowsField(forms.ModelMultipleChoiceField):  # type: ignore[type-arg]
    """Several rows to choose; a number no database can hold is none of them."""

    def clean(self, value: Any) -> Any:
        """The rows."""
        try:
            return super().clean(value)
        except OverflowError:
            raise ValidationError(self.error_messages["invalid_choice"], code="invalid_choice") from None


class OneLineField(forms.CharField):
    """Text of one line: whatever space or line ends were sent become single spaces."""

    def to_python(self, value: object) -> str:
        """The text in one line."""
        return " ".join((super().to_python(value) or "").split())


class NumberField(forms.CharField):
    """A bare number with a point or a comma; ``wanted`` ends the sentence "Enter …", no ``decimals`` is a whole one."""

    def __init__(
        self, *, wanted: str, low: str = "0", high: str | None = None, decimals: int | None = None, **kwargs: Any
    ) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal" if decimals != 0 else "numeric"}))
        super().__init__(error_messages={"required": f"Enter {wanted}."}, **kwargs)
        self.wanted, self.decimals = wanted, decimals
        self.low, self.high = Decimal(low), None if high is None else Decimal(high)

    def clean(self, value: Any) -> Decimal | None:
        """The number, or None where nothing was typed and nothing is needed."""
        typed = str(super().clean(value)).replace("\u00a0", " ").strip()
        return self.number(typed) if typed else None

    def number(self, typed: str) -> Decimal:
        """The number typed, if it is one and lies in the range."""
        if not _PLAIN.fullmatch(typed):
            raise ValidationError(f"“{typed[:40]}” is not a plain number. Enter {self.wanted}.")
        if found := _EITHER.fullmatch(typed):
            whole, rest = found.groups()
            small = plain_number(Decimal(f"{whole}.{rest}"))
            raise ValidationError(f"“{typed}” can be read two ways; type {whole}{rest} or {small}, whichever is meant.")
        number = Decimal(typed.replace(",", "."))
        if self.decimals is not None and number != round(number, self.decimals):
            allowed = f"has more than {self.decimals} decimals" if self.decimals else "is not a whole number"
            raise ValidationError(f"{typed} {allowed}. Enter {self.wanted}.")
        if number < self.low:
            raise ValidationError(f"{typed} is too small; the least is {self.low}. Enter {self.wanted}.")
        if self.high is not None and number > self.high:
            raise ValidationError(f"{typed} is too large; the most is {self.high}. Enter {self.wanted}.")
        return number

    def prepare_value(self, value: Any) -> Any:
        """The stored number as it would be typed."""
        return plain_number(value) if isinstance(value, int | float | Decimal) else value

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether the text differs from what the field was opened with."""
        return super().has_changed(self.prepare_value(initial), data)


class PercentField(NumberField):
    """A share, typed and shown in per cent."""

    def number(self, typed: str) -> Decimal:
        """The share, so that 20 gives 0.20."""
        return super().number(typed.removesuffix("%").rstrip()) / 100

    def prepare_value(self, value: Any) -> Any:
        """The stored share in per cent."""
        if isinstance(value, int | float | Decimal):
            return plain_number(Decimal(plain_number(value)) * 100)
        return value


class LinesField(forms.CharField):
    """Several lines of text; the ends of lines are the same whatever the browser sends."""

    widget = forms.Textarea

    def to_python(self, value: Any) -> str:
        """The text without spaces at the ends of its lines."""
        lines = (super().to_python(value) or "").replace("\r\n", "\n").split("\n")
        return "\n".join(line.rstrip() for line in lines).strip()


class Ticks(forms.CheckboxSelectMultiple):
    """Ticks under one legend; a summary of errors leads to the first of them."""

    def id_for_label(self, id_: str, index: str | None = None) -> str:
        """The id of one tick, or of the first."""
        return super().id_for_label(id_, index or "0")


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that somebody else changed meanwhile: its label, and what is there now."""

    label: str
    there_now: str


class EditForm(forms.Form):
    """A form for a row that carries a version."""

    version = forms.IntegerField(
        widget=forms.HiddenInput,
        error_messages={
            "required": "This page lost its place; load it again.",
            "invalid": "This page lost its place; load it again.",
        },
    )

    def entered(self) -> Mapping[str, Any]:
        """What was entered, without the version."""
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}

    def catch_up(self, now: "EditForm") -> list[Difference]:
        """After a conflict: keep what was typed, take the new version, and answer what is there now instead."""
        data: Any = copy(self.data)
        data["version"] = str(now.initial["version"])
        self.data = data
        fields = [field for field in now.visible_fields() if field.name in self.fields]
        return [
            Difference(str(field.label), _shown(field)) for field in fields if _shown(field) != _shown(self[field.name])
        ]


def _shown(field: forms.BoundField) -> str:
    value = field.value()
    choices = {str(key): str(label) for key, label in getattr(field.field, "choices", ())}
    chosen = value if isinstance(value, list | tuple) else [value]
    texts = ["" if one is None or one is False else str(one) for one in chosen]
    return ", ".join(choices.get(text, text) for text in texts).replace("\r\n", "\n")
