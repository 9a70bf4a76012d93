"""What is tried on a draft; a field left as it is changes nothing."""

from collections.abc import Sequence
from typing import Any

from django import forms

from jobs.forms.quotes import check_profit
from jobs.models import Section
from jobs.services.what_if import Trial
from materials.models import LayUp, LayUpUse, PaintSystem
from studio.forms import NumberField, PercentField, choose
from studio.office.models import ProfitKind

AS_IT_IS = ("", "As it is")
USUAL = "usual"


def _choice(label: str) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label, required=False, error_messages=choose("Choose one of the list, or leave it as it is.")
    )


class WhatIfForm(forms.Form):
    """A change to one section or to all, and to what the price is built with."""

    section = _choice("In")
    grade = _choice("Finish grade")
    mould_lay_up = _choice("Mould lay-up")
    cast_lay_up = _choice("Cast lay-up")
    pulls = NumberField(
        label="Casts from the mould",
        wanted="a whole number from 1 to 500, or leave it blank",
        low="1",
        high="500",
        decimals=0,
        required=False,
    )
    paint_system = _choice("Paint system")
    profit_kind = _choice("Profit is counted as")
    profit_rate = PercentField(
        label="Margin or mark-up, %",
        wanted="the rate in per cent, or leave it blank",
        high="500",
        decimals=2,
        required=False,
    )
    contingency = PercentField(
        label="Contingency, %",
        wanted="the contingency in per cent, or leave it blank",
        high="90",
        decimals=2,
        required=False,
    )

    def __init__(self, *args: Any, sections: Sequence[Section], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        lay_ups = list(LayUp.objects.all())
        self.rows: dict[str, dict[str, Any]] = {
            "mould_lay_up": {str(row.pk): row for row in lay_ups if row.use == LayUpUse.MOULD},
            "cast_lay_up": {str(row.pk): row for row in lay_ups if row.use == LayUpUse.CAST},
            "paint_system": {str(row.pk): row for row in PaintSystem.objects.all()},
        }
        self._offer("section", [("", "All sections"), *((str(row.pk), row.name) for row in sections)])
        self._offer("grade", [AS_IT_IS, *Section.GRADES])
        self._offer("profit_kind", [AS_IT_IS, *ProfitKind.choices])
        for name, rows in self.rows.items():
            usual = "The usual for its grade" if name == "paint_system" else "The studio's usual"
            self._offer(name, [AS_IT_IS, (USUAL, usual), *((pk, row.name) for pk, row in rows.items())])

    def _offer(self, name: str, choices: list[tuple[str, str]]) -> None:
        self.fields[name].choices = choices  # type: ignore[attr-defined]

    def of_sections(self) -> list[forms.BoundField]:
        """The fields that change sections."""
        names = ("section", "grade", "mould_lay_up", "cast_lay_up", "pulls", "paint_system")
        return [self[name] for name in names]

    def of_terms(self) -> list[forms.BoundField]:
        """The fields that change terms."""
        return [self[name] for name in ("profit_kind", "profit_rate", "contingency")]

    def clean(self) -> dict[str, Any]:
        """The same rate is another price as margin and as mark-up, so the two are tried together."""
        cleaned = super().clean() or {}
        if cleaned.get("profit_kind") and cleaned.get("profit_rate") is None and "profit_rate" not in self.errors:
            self.add_error("profit_rate", "Enter the rate too: 20 % of the price is not 20 % of the cost.")
        check_profit(self, cleaned)
        return cleaned

    def trial(self) -> Trial:
        """What was chosen."""
        given = {name: value for name, value in self.cleaned_data.items() if value not in ("", None)}
        section = given.pop("section", None)
        terms: dict[str, Any] = {
            name: given.pop(name) for name in ("profit_kind", "profit_rate", "contingency") if name in given
        }
        for name, rows in self.rows.items():
            if name in given:
                given[name] = rows.get(given[name])
        if "pulls" in given:
            given["pulls"] = int(given["pulls"])
        return Trial(int(section) if section else None, given, terms)

    def chosen(self) -> list[tuple[str, str]]:
        """What was typed and chosen, for the form that keeps it."""
        return [(name, self.data[name]) for name in self.fields if self.data.get(name)]
