"""Lay-ups and paint systems, row by row."""

from typing import Any

from django import forms

from materials.estimator.errors import EstimatorError
from materials.estimator.spec import Coat, LayUp, Ply
from materials.models import LayUp as LayUpRow
from materials.models import LayUpPly, LayUpUse, PaintCoat, PaintSystem
from materials.queries.figures import coat_values, lay_up_value
from studio.forms import CheckedField, NumberField, PercentField, choose
from studio.quantities import QuantityField, system_of
from studio.rows import RowsForm


def _choices(kinds: list[tuple[str, str]], none: str) -> list[tuple[str, str]]:
    return [("", none), *kinds]


class LayUpForm(RowsForm):
    """Gel coat and layers of glass, from the face inwards."""

    row_name = "layer"
    most = 12

    name = forms.CharField(label="Name", max_length=60, error_messages={"required": "Enter what the lay-up is called."})
    return_extra_layers = NumberField(
        label="Extra layers on the returns", wanted="a whole number from 0 to 10", high="10", decimals=0
    )
    is_default = forms.BooleanField(label="Used where a section names no lay-up", required=False)

    checked_on = CheckedField()

    field_order = ["name", "gel_coat_kg_m2", "return_extra_layers", "is_default", "checked_on"]

    def __init__(self, data: Any = None, *, use: str, units: str, row: LayUpRow | None = None) -> None:
        self.system = system_of(units)
        self.value: LayUp | None = None
        plies = [
            {"kind": p.kind, "weight_kg_m2": p.weight_kg_m2, "glass_fraction": p.glass_fraction, "layers": p.layers}
            for p in (lay_up_value(row).plies if row else ())
        ]
        initial = {"return_extra_layers": 0}
        if row:
            names = ("name", "gel_coat_kg_m2", "return_extra_layers", "is_default", "version")
            initial = {name: getattr(row, name) for name in names}
        super().__init__(data, rows=plies, initial=initial)
        self.fields["gel_coat_kg_m2"] = QuantityField(
            kind="areal_mass",
            system=self.system,
            allow_zero=True,
            label="Gel coat",
            help_text="Such as 600 g/m2; 0 g/m2 for none.",
            error_messages={"required": "Enter the gel coat to a square metre, such as 600 g/m2."},
        )
        if use == LayUpUse.CAST:
            del self.fields["return_extra_layers"]
        self.order_fields(self.field_order)

    def row_fields(self) -> dict[str, forms.Field]:
        """Equal layers of one glass."""
        return {
            "kind": forms.ChoiceField(
                label="Glass",
                choices=_choices(LayUpPly.KINDS, "no layer"),
                error_messages=choose("Choose the glass."),
            ),
            "weight_kg_m2": QuantityField(
                kind="areal_mass",
                system=self.system,
                label="Weight",
                error_messages={"required": "Enter the dry weight, such as 450 g/m2."},
            ),
            "glass_fraction": PercentField(
                label="Glass by mass, %", wanted="the share of glass in per cent, from 10 to 70", low="10", high="70"
            ),
            "layers": NumberField(label="Layers", wanted="a whole number from 1 to 40", low="1", high="40", decimals=0),
        }

    def clean(self) -> dict[str, Any]:
        """Read the whole as the estimator will."""
        cleaned = super().clean()
        if not self.errors:
            try:
                self.value = self._lay_up(cleaned)
            except EstimatorError as error:
                self.add_error(None, str(error))
        return cleaned

    def particulars(self) -> dict[str, Any]:
        """What was entered besides the lay-up itself."""
        return {name: self.cleaned_data[name] for name in ("is_default", "checked_on")}

    def _lay_up(self, cleaned: dict[str, Any]) -> LayUp:
        unchanged = "gel_coat_kg_m2" not in self.changed_data
        return LayUp(
            name=cleaned["name"],
            gel_coat_kg_m2=self.initial["gel_coat_kg_m2"] if unchanged else cleaned["gel_coat_kg_m2"],
            plies=tuple(
                Ply(row["kind"], row["weight_kg_m2"], float(row["glass_fraction"]), int(row["layers"]))
                for row in self.rows
            ),
            return_extra_layers=int(cleaned.get("return_extra_layers", 0)),
        )


class PaintSystemForm(RowsForm):
    """Coats in the order they are put on."""

    row_name = "coat"
    most = 10

    name = forms.CharField(
        label="Name", max_length=60, error_messages={"required": "Enter what the paint system is called."}
    )
    description = forms.CharField(
        label="As a commissioner would read it",
        help_text="Such as: two-pack primer and gloss topcoat.",
        required=False,
        max_length=200,
    )
    default_grade = forms.ChoiceField(
        label="Used where a section names no paint system",
        required=False,
        choices=[("", "for no grade"), ("A", "for grade A"), ("B", "for grade B"), ("C", "for grade C")],
        error_messages=choose("Choose a grade, or none."),
    )
    checked_on = CheckedField()

    def __init__(self, data: Any = None, *, units: str, row: PaintSystem | None = None) -> None:
        self.system = system_of(units)
        self.coats: tuple[Coat, ...] = ()
        coats = [
            {
                "kind": c.kind,
                "volume_solids": c.volume_solids,
                "dry_film_um": c.dry_film_um,
                "coats": c.coats,
                "loss": c.loss,
                "hardener_per_base": c.hardener_per_base,
                "thinner": c.thinner,
            }
            for c in (coat_values(row) if row else ())
        ]
        names = ("name", "description", "default_grade", "version")
        initial = {name: getattr(row, name) for name in names} if row else {}
        super().__init__(data, rows=coats, initial=initial)

    def row_fields(self) -> dict[str, forms.Field]:
        """One paint."""
        return {
            "kind": forms.ChoiceField(
                label="Paint",
                choices=_choices(PaintCoat.KINDS, "no coat"),
                error_messages=choose("Choose the paint."),
            ),
            "volume_solids": PercentField(
                label="Volume solids, %", wanted="the solids in per cent, from 5 to 100", low="5", high="100"
            ),
            "dry_film_um": QuantityField(
                kind="film",
                system=self.system,
                label="Dry film of a coat",
                error_messages={"required": "Enter the dry film of one coat, such as 50 um."},
            ),
            "coats": NumberField(label="Coats", wanted="a whole number from 1 to 12", low="1", high="12", decimals=0),
            "loss": PercentField(label="Loss, %", wanted="what misses the work in per cent, from 0 to 90", high="90"),
            "hardener_per_base": NumberField(
                label="Hardener to 1 of base", wanted="the hardener to one of base, from 0 to 5, such as 0.25", high="5"
            ),
            "thinner": PercentField(
                label="Thinner, %", wanted="the thinner in per cent of the paint, from 0 to 100", high="100"
            ),
        }

    def clean(self) -> dict[str, Any]:
        """Read the whole as the estimator will."""
        cleaned = super().clean()
        if not self.errors and not self.rows:
            self.add_error(None, "Enter at least one coat.")
        if not self.errors:
            try:
                self.coats = tuple(self._coat(row) for row in self.rows)
            except EstimatorError as error:
                self.add_error(None, str(error))
        return cleaned

    def particulars(self) -> dict[str, Any]:
        """Name, description, grade and day of the check, as entered."""
        return {name: self.cleaned_data[name] for name in ("name", "description", "default_grade", "checked_on")}

    @staticmethod
    def _coat(row: dict[str, Any]) -> Coat:
        return Coat(
            kind=row["kind"],
            volume_solids=float(row["volume_solids"]),
            dry_film_um=row["dry_film_um"],
            coats=int(row["coats"]),
            loss=float(row["loss"]),
            hardener_per_base=float(row["hardener_per_base"]),
            thinner=float(row["thinner"]),
        )
