"""Items of the catalogue and their packs."""

import datetime
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import partial
from typing import Any

from django import forms

from materials.forms.reading import ReadField
from materials.models import Item, ItemKind, Pack
from materials.models.catalogue import UNITS
from materials.services import allowed
from materials.services.catalogue import FirstPrice, Particulars
from materials.units import Kind, convert, parse
from studio.money import exact, parse_amount

MEASURED: Mapping[str, tuple[Kind, str]] = {
    "kg": ("mass", "kg"),
    "m2": ("area", "m2"),
    "m3": ("volume", "m3"),
    "l": ("volume", "m3"),
    "ml": ("volume", "m3"),
    "m": ("length", "m"),
    "h": ("time_hours", "h"),
}
"""For each unit of an item, the kind of quantity that is typed, and the unit it is read in."""

EXAMPLES = {"kg": "25 kg", "m2": "60 m2", "m3": "0.25 m3", "l": "5 l", "ml": "1000 ml", "m": "50 m", "h": "1 h"}


def read_density(text: str) -> float:
    """A typed density in kg/m³."""
    return float(allowed.density(exact(parse(text, "density", "The density"))))


def read_pack_quantity(unit: str) -> Callable[[str], Decimal]:
    """What reads a pack of an item counted in this unit."""

    def read(text: str) -> Decimal:
        if unit not in MEASURED:
            return allowed.pack_quantity(allowed.plain_number(text.removesuffix("each").removesuffix("pieces")))
        kind, read_in = MEASURED[unit]
        value = parse(text, kind, "The quantity")
        # To what the column holds; beyond it stand only the traces of turning one unit into another.
        return allowed.pack_quantity(round(exact(convert(value, read_in, unit)), 4))

    return read


class ItemForm(forms.Form):
    """What is known of an item besides its key."""

    name = ReadField(partial(allowed.line_of_text, most=allowed.NAME), missing="Enter what people call it.")
    kind = forms.ChoiceField(
        choices=ItemKind.choices,
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose a kind from the list."),
    )
    unit = forms.ChoiceField(
        label="Counted in",
        choices=UNITS,
        help_text="The unit of the take-off's line. It stays once there are packs.",
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose a unit from the list."),
    )
    density_kg_m3 = ReadField(
        read_density,
        label="Density",
        help_text="With its unit, such as 1100 kg/m3, where it is weighed out or measured.",
    )
    supplier = ReadField(partial(allowed.line_of_text, most=allowed.SUPPLIER))
    lead_days = ReadField(
        partial(allowed.whole_days, most=allowed.MOST_LEAD_DAYS),
        label="Days from order to delivery",
        missing="Enter the days from order to delivery, 0 if it is at hand.",
        initial="0",
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    shelf_life_days = ReadField(
        partial(allowed.whole_days, most=allowed.MOST_SHELF_DAYS),
        label="Shelf life in days",
        help_text="Leave it blank for what does not spoil.",
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )

    def particulars(self) -> Particulars:
        """What was entered."""
        data = self.cleaned_data
        return Particulars(
            name=data["name"],
            kind=data["kind"],
            unit=data["unit"],
            density_kg_m3=data["density_kg_m3"],
            supplier=data["supplier"] or "",
            lead_days=data["lead_days"],
            shelf_life_days=data["shelf_life_days"],
        )


class NewItemForm(ItemForm):
    """An item that is not in the catalogue yet."""

    key = ReadField(
        allowed.item_key,
        help_text="The name that a take-off uses, such as glass_csm_450; it cannot be changed later.",
        missing="Enter the key that a take-off uses, such as glass_csm_450.",
    )
    field_order = ["name", "key"]


class EditItemForm(ItemForm):
    """An item as it stands."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    @classmethod
    def of(cls, item: Item) -> "EditItemForm":
        """The form filled with an item."""
        density = "" if item.density_kg_m3 is None else f"{exact(round(item.density_kg_m3, 3)).normalize():f} kg/m3"
        names = ("name", "kind", "unit", "supplier", "lead_days", "shelf_life_days", "version")
        return cls(initial={**{name: getattr(item, name) for name in names}, "density_kg_m3": density})


class PackForm(forms.Form):
    """A size in which an item is sold."""

    label = ReadField(
        partial(allowed.line_of_text, most=allowed.LABEL),
        label="What the supplier calls it",
        help_text="Such as 25 kg drum.",
        missing="Enter what the supplier calls the pack, such as 25 kg drum.",
    )

    def __init__(self, item: Item, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        example = EXAMPLES.get(item.unit, "100")
        self.fields["quantity"] = ReadField(
            read_pack_quantity(item.unit),
            label="What it holds",
            help_text=f"{'With its unit' if item.unit in MEASURED else 'How many'}, such as {example}.",
            missing=f"Enter what the pack holds, such as {example}.",
        )


class NewPackForm(PackForm):
    """A pack that begins with a price, if it is known already."""

    def __init__(self, item: Item, currency: str, today: datetime.date, *args: Any, **kwargs: Any) -> None:
        super().__init__(item, *args, **kwargs)
        self.fields["price"] = ReadField(
            partial(parse_amount, currency=currency),
            label=f"Price before tax, in {currency}",
            help_text="Leave it blank if you do not know it yet.",
            widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        )
        self.fields["valid_from"] = day_field("The price holds from", initial=today.isoformat())

    def first_price(self) -> FirstPrice | None:
        """The price entered."""
        price = self.cleaned_data["price"]
        return None if price is None else FirstPrice(price, self.cleaned_data["valid_from"])


class EditPackForm(PackForm):
    """A pack as it stands; the version is its item's."""

    version = forms.IntegerField(widget=forms.HiddenInput)

    @classmethod
    def of(cls, pack: Pack) -> "EditPackForm":
        """The form filled with a pack."""
        quantity = f"{pack.quantity.normalize():f}" + (f" {pack.item.unit}" if pack.item.unit in MEASURED else "")
        return cls(pack.item, initial={"label": pack.label, "quantity": quantity, "version": pack.item.version})


def day_field(label: str, initial: str | None = None) -> ReadField:
    """A day, chosen in the browser's own calendar or typed as 2026-01-31."""
    return ReadField(
        allowed.iso_day,
        label=label,
        missing="Enter a day such as 2026-01-31.",
        initial=initial,
        widget=forms.DateInput(attrs={"type": "date"}),
    )
