"""An extra: what the take-off does not give."""

from typing import Any

from django import forms
from django.db.models import Q, QuerySet

from jobs.services.pricing import BENCH_HOUR
from materials.models import Item, ItemKind
from studio.forms import NumberField, choose


def items_to_choose() -> "QuerySet[Item]":
    """What may be priced by itself: of the hours only those at the bench; the others are rates within the price."""
    return Item.objects.filter(~Q(kind=ItemKind.HOUR) | Q(key=BENCH_HOUR)).order_by("name")


class ItemChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """An item with the unit it is counted in."""

    def label_from_instance(self, obj: Any) -> str:
        """Name and unit."""
        return f"{obj.name}, by {obj.get_unit_display()}"


class ExtraForm(forms.Form):
    """What it is, how the price book knows it, and how much."""

    item = ItemChoice(
        Item.objects.none(),
        label="From the price book",
        empty_label="Choose what it is",
        error_messages=choose("Choose something from the list; if it is not there, add it to the price book first."),
    )
    label = forms.CharField(
        label="As the build-up calls it",
        help_text="Such as haulage to Eastmere.",
        max_length=120,
        error_messages={"required": "Enter what it is called here, such as haulage to Eastmere."},
    )
    quantity = NumberField(
        label="How much",
        help_text="In the unit beside its name.",
        wanted="how much, such as 1.5",
        low="0.01",
        high="99999999",
        decimals=2,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["item"].queryset = items_to_choose()  # type: ignore[attr-defined]
