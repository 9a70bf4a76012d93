"""A section by its dimensions; the fields follow the shape."""

from typing import Any

from django import forms

from jobs.models import PatternMethod, Section, Shape
from jobs.specs import section_spec, signed_length_m, typed_number, typed_points, typed_sides
from materials.estimator.errors import EstimatorError
from materials.estimator.shapes import SHAPES
from materials.estimator.studio import StudioFigures
from materials.models import LayUp, LayUpUse, PaintSystem
from materials.specfile import read_spec
from materials.units import Kind, parse
from studio.forms import OneLineField

LENGTHS = ("scale_from", "scale_to", "stand", "filler", "seam", "return_width", "strip_width", "metal_height")


def _typed(label: str, hint: str = "", *, required: bool = False) -> forms.CharField:
    return forms.CharField(
        label=label,
        help_text=hint,
        required=required,
        max_length=60,
        error_messages={"required": f"Enter the {label.lower()} with its unit, such as 2.6 m."},
    )


def _whole(label: str, low: int, high: int, *, required: bool = True, hint: str = "") -> forms.IntegerField:
    told = f"Enter a whole number from {low} to {high}."
    return forms.IntegerField(
        label=label,
        min_value=low,
        max_value=high,
        required=required,
        help_text=hint,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        error_messages={"required": told, "invalid": told, "min_value": told, "max_value": told},
    )


class ShapeForm(forms.Form):
    """Which shape the fields are for."""

    shape = forms.ChoiceField(
        choices=[choice for choice in Shape.choices if choice[0] != Shape.MESH], initial=Shape.FRUSTUM
    )


class SectionForm(forms.Form):
    """How big a section is and how it is made."""

    name = OneLineField(
        label="Section", max_length=60, error_messages={"required": "Enter what this part is called, such as Base."}
    )
    grade = forms.ChoiceField(choices=Section.GRADES, initial="B", label="Finish grade")
    count = _whole("How many", 1, 50, hint="Each with a pattern and mould of its own.")
    mirrored = forms.BooleanField(label="A left and a right", required=False)
    scale_from = _typed("Size on the maquette", "Where the dimensions are the maquette's.")
    scale_to = _typed("The same size full scale")
    stand = _typed("Height of its foot", "Above the ground; blank stands it on the section before.")
    offset = _typed("Sideways from the middle", "To the right, or with a minus to the left.")

    pattern_method = forms.ChoiceField(choices=PatternMethod.choices, label="Pattern")
    block = _typed("Foam block or board", "Its three sides, such as 1.25 m x 0.6 m x 0.1 m; blank is the studio's.")
    filler = _typed("Filler on the foam", "Thickness, such as 4 mm.")

    pieces = _whole("Mould pieces", 1, 60)
    seam = _typed("Length of seams", "Blank estimates it from area and pieces.")
    return_width = _typed("Width of returns", "Such as 90 mm.")
    mould_lay_up = forms.ModelChoiceField(
        LayUp.objects.none(), required=False, empty_label="The studio's usual", label="Mould lay-up"
    )

    pulls = _whole("Casts from the mould", 1, 500)
    cast_lay_up = forms.ModelChoiceField(
        LayUp.objects.none(), required=False, empty_label="The studio's usual", label="Cast lay-up"
    )
    strip_width = _typed("Width of joining strips")
    strip_layers = _whole("Layers of joining strips", 1, 12, required=False)

    paint_system = forms.ModelChoiceField(
        PaintSystem.objects.none(), required=False, empty_label="The usual for its grade", label="Paint system"
    )
    metal = forms.CharField(
        label="Steel inside", help_text="Such as 35 kg, in each cast.", required=False, max_length=60
    )
    metal_height = _typed(
        "Height of its balance above the foot",
        "0 m for a plate at the foot; blank takes half the height, as of an armature all the way up.",
    )
    metal_offset = _typed("Steel sideways from the middle", "To the right, or with a minus to the left.")
    crated = forms.BooleanField(label="Goes into a crate", required=False)
    version = forms.IntegerField(widget=forms.HiddenInput, initial=0, required=False)

    def __init__(
        self, shape: str, figures: StudioFigures, *args: Any, kept: dict[str, Any] | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.shape, self.figures, self.kept = shape, figures, kept or {}
        # What is cut from a model has its figures from there, and nothing to type.
        self.dimensions = SHAPES[shape].dimensions if shape in SHAPES else ()
        self.hint = SHAPES[shape].hint if shape in SHAPES else "Cut from a model, which gives its size."
        lay_ups = LayUp.objects.all()
        self.fields["mould_lay_up"].queryset = lay_ups.filter(use=LayUpUse.MOULD)  # type: ignore[attr-defined]
        self.fields["cast_lay_up"].queryset = lay_ups.filter(use=LayUpUse.CAST)  # type: ignore[attr-defined]
        self.fields["paint_system"].queryset = PaintSystem.objects.all()  # type: ignore[attr-defined]
        for dimension in self.dimensions:
            label = dimension.label[0].upper() + dimension.label[1:]
            if dimension.kind == "polygon":
                self.fields[f"dim_{dimension.name}"] = forms.CharField(
                    label=label,
                    help_text=f"{dimension.hint.capitalize()}; one point to a line, as two numbers: 1.2 0.4",
                    max_length=4000,
                    widget=forms.Textarea(attrs={"rows": 8}),
                    error_messages={"required": "Enter the points, one to a line, as two numbers: 1.2 0.4"},
                )
                self.fields["dim_unit"] = forms.ChoiceField(
                    label="Points are in", choices=[(u, u) for u in ("m", "cm", "mm", "ft", "in")]
                )
            else:
                self.fields[f"dim_{dimension.name}"] = _typed(label, dimension.hint, required=dimension.required)

    @classmethod
    def of(cls, section: Section, figures: StudioFigures, shape: str) -> "SectionForm":
        """The form filled with a section; where another shape is asked for, its dimensions are empty."""
        initial = {name: getattr(section, name) for name in cls.base_fields}
        initial |= {f"dim_{name}": value for name, value in section.dimensions.items()}
        return cls(shape, figures, initial=initial, kept=section.dimensions)

    def groups(self) -> list[tuple[str, list[forms.BoundField]]]:
        """The fields as the sheet lays them out."""
        names = {
            "Dimensions": [name for name in self.fields if name.startswith("dim_")],
            "What it is": ["grade", "count", "mirrored"],
            "Pattern": ["pattern_method", "block", "filler"],
            "Mould": ["pieces", "seam", "return_width", "mould_lay_up"],
            "Cast": ["pulls", "cast_lay_up", "strip_width", "strip_layers"],
            "Finish, steel and crate": ["paint_system", "metal", "crated"],
        }
        return [(heading, [self[name] for name in fields]) for heading, fields in names.items() if fields]

    def rare_groups(self) -> list[tuple[str, list[forms.BoundField], bool]]:
        """Fields that most sections leave alone, and whether one of them is used; unused, the sheet folds them."""
        names = {
            "From a maquette": ["scale_from", "scale_to"],
            "Where it stands in the drawing": ["stand", "offset"],
            "Where the steel inside balances": ["metal_height", "metal_offset"],
        }
        rare = [(heading, [self[name] for name in fields]) for heading, fields in names.items()]
        return [(heading, fields, any(f.value() or f.errors for f in fields)) for heading, fields in rare]

    def clean(self) -> dict[str, Any]:
        """Read every quantity, then the section as a whole."""
        cleaned = super().clean() or {}
        for dimension in self.dimensions:
            if dimension.kind in ("length", "area", "volume"):
                self._read(f"dim_{dimension.name}", dimension.kind, allow_zero=dimension.kind == "length")
            else:
                self._try(f"dim_{dimension.name}", typed_points if dimension.kind == "polygon" else typed_number)
        for name in LENGTHS:
            self._read(name, "length", allow_zero=name in ("stand", "filler", "metal_height"))
        for name in ("offset", "metal_offset"):
            self._try(name, signed_length_m)
        self._try("block", typed_sides)
        self._read("metal", "mass", allow_zero=True)
        if not self.errors:
            try:
                read_spec(
                    {"name": "section", "sections": [section_spec(Section(**self.values()))]}, defaults=self.figures
                )
            except EstimatorError as error:
                self.add_error(None, str(error))
        return cleaned

    def _read(self, name: str, kind: Kind, *, allow_zero: bool) -> None:
        label = str(self.fields[name].label)
        self._try(name, lambda typed: parse(typed, kind, label, allow_zero=allow_zero))

    def _try(self, name: str, reader: Any) -> None:
        typed = self.cleaned_data.get(name)
        if not typed:
            return
        try:
            reader(typed)
        except EstimatorError as error:
            self.add_error(name, str(error))

    def values(self) -> dict[str, Any]:
        """What was entered, by the section's own field names."""
        entered = {
            name: value for name, value in self.cleaned_data.items() if name in self.base_fields and name != "version"
        }
        dimensions = {name[4:]: value for name, value in self.cleaned_data.items() if name.startswith("dim_")}
        return {**entered, "shape": self.shape, "dimensions": dimensions or self.kept}
