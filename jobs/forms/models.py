"""A model file, how it stands, and the planes that part it."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.models import CommissionModel, FileUnit, PlaneKind, Up
from jobs.specs import signed_length_m
from materials.estimator.errors import EstimatorError
from materials.mesh.planes import Plane, plane_at, plane_of, plane_through
from materials.units import Kind, parse

AXES = [
    ("z", "level, at this height"),
    ("x", "upright, this far to the right of the middle"),
    ("y", "upright, this far behind the middle"),
]


def _typed(label: str, hint: str, example: str, *, required: bool = False) -> forms.CharField:
    told = f"Enter the {label.lower()}, such as {example}."
    return forms.CharField(
        label=label, help_text=hint, required=required, max_length=40, error_messages={"required": told}
    )


class StandForm(forms.Form):
    """Its size, and which way is up."""

    unit = forms.ChoiceField(
        label="Its numbers are", choices=[("", "as the file says"), *FileUnit.choices], required=False
    )
    height = _typed("Finished height", "Such as 3.4 m; it is brought to that, whatever its unit.", "3.4 m")
    up = forms.ChoiceField(label="Up is", choices=[("", "as the format has it"), *Up.choices], required=False)
    holes = _typed("Close holes up to", "Across, such as 20 mm; blank closes none.", "20 mm")
    version = forms.IntegerField(widget=forms.HiddenInput, initial=0, required=False)

    @classmethod
    def of(cls, model: CommissionModel) -> "StandForm":
        """The form filled with how a model stands."""
        return cls(initial={name: getattr(model, name) for name in ("unit", "height", "up", "holes", "version")})

    def clean_height(self) -> str:
        """A length above nothing."""
        return self._length("height", "length")

    def clean_holes(self) -> str:
        """A length above nothing."""
        return self._length("holes", "length")

    def _length(self, name: str, kind: Kind) -> str:
        typed = str(self.cleaned_data[name])
        if typed:
            try:
                parse(typed, kind, str(self.fields[name].label).lower())
            except EstimatorError as error:
                raise ValidationError(str(error)) from None
        return typed

    def standing(self) -> dict[str, str]:
        """What was entered."""
        return {name: self.cleaned_data[name] for name in ("unit", "height", "up", "holes")}


class NewModelForm(StandForm):
    """A model file to price from."""

    name = forms.CharField(
        label="What it is a model of", max_length=60, error_messages={"required": "Enter a name, such as Figure."}
    )
    file = forms.FileField(
        label="Model file",
        help_text="STL, OBJ, PLY, 3MF or GLB, up to 100 MB and 2 million triangles.",
        error_messages={
            "required": "Choose the model file.",
            "missing": "Choose the model file.",
            "invalid": "Choose the model file.",
            "empty": "The file is empty. Export the model again and choose that.",
        },
    )
    field_order = ("name", "file", "unit", "height", "up", "holes")


class PlaneForm(forms.Form):
    """One parting plane, and what it parts. Lengths are as the model stands: from the middle of its foot."""

    kind: PlaneKind
    title = ""
    section = forms.ChoiceField(label="Parts", required=False)

    def __init__(self, sections: list[str], data: Any = None) -> None:
        super().__init__(data, prefix=self.kind)
        parts = [(name, f"section {name}, into pieces of its mould") for name in sections]
        self.fields["section"].choices = [("", "the whole model"), *parts]  # type: ignore[attr-defined]
        self.plane: Plane | None = None

    def clean(self) -> dict[str, Any]:
        """Read the plane once every field of it is there."""
        cleaned = super().clean() or {}
        if not self.errors:
            try:
                self.plane = self.read()
            except EstimatorError as error:
                self.add_error(None, str(error))
        return cleaned

    def read(self) -> Plane:
        """The plane typed."""
        raise NotImplementedError

    def words(self) -> str:
        """How it was given, for the list of planes."""
        raise NotImplementedError


class AxisPlaneForm(PlaneForm):
    """Square to an axis."""

    kind = PlaneKind.AXIS
    title = "By height or place"
    axis = forms.ChoiceField(label="Plane", choices=AXES)
    at = _typed("At", "Such as 1.2 m; with a minus to the left or in front.", "1.2 m", required=True)
    field_order = ("axis", "at", "section")

    def read(self) -> Plane:
        """The plane typed."""
        return plane_at(self.cleaned_data["axis"], signed_length_m(self.cleaned_data["at"]))

    def words(self) -> str:
        """How it was given."""
        return f"{self.cleaned_data['axis']} at {self.cleaned_data['at']}"


class PointsPlaneForm(PlaneForm):
    """Through three points."""

    kind = PlaneKind.POINTS
    title = "Through three points"
    first = _typed("First point", "In metres: right, behind, up. Such as 0.1 0.2 1.5.", "0.1 0.2 1.5", required=True)
    second = _typed("Second point", "", "0.4 0.2 1.5", required=True)
    third = _typed("Third point", "", "0.1 −0.3 1.7", required=True)
    field_order = ("first", "second", "third", "section")

    def read(self) -> Plane:
        """The plane typed."""
        return plane_through(*(three_numbers(self.cleaned_data[name]) for name in ("first", "second", "third")))

    def words(self) -> str:
        """How it was given."""
        return "through " + ", ".join(f"({self.cleaned_data[name]})" for name in ("first", "second", "third"))


class NormalPlaneForm(PlaneForm):
    """By its normal and its distance from the middle of the foot."""

    kind = PlaneKind.NORMAL
    title = "By normal and offset"
    normal = _typed("Normal", "Three numbers: right, behind, up. Such as 0 0.5 1.", "0 0.5 1", required=True)
    offset = _typed("Offset", "Along the normal from the middle of the foot, such as 1.2 m.", "1.2 m", required=True)
    field_order = ("normal", "offset", "section")

    def read(self) -> Plane:
        """The plane typed."""
        return plane_of(three_numbers(self.cleaned_data["normal"]), signed_length_m(self.cleaned_data["offset"]))

    def words(self) -> str:
        """How it was given."""
        return f"normal ({self.cleaned_data['normal']}) at {self.cleaned_data['offset']}"


PLANE_FORMS: tuple[type[PlaneForm], ...] = (AxisPlaneForm, PointsPlaneForm, NormalPlaneForm)


def three_numbers(typed: str) -> tuple[float, float, float]:
    """Three numbers parted by spaces, commas or semicolons."""
    words = typed.replace("−", "-").replace(";", " ").replace(", ", " ").split()
    if len(words) == 1:
        words = typed.replace("−", "-").split(",")
    try:
        x, y, z = (float(word.replace(",", ".")) for word in words)
    except ValueError:
        raise EstimatorError(
            "point", typed, f"“{typed.strip()[:40]}” is not three numbers; write them as 0.1 0.2 1.5."
        ) from None
    return x, y, z


class FitForm(forms.Form):
    """What every section must fit."""

    longest = _typed("Longest side", "Of the opening, the machine or the block.", "2.4 m")
    middle = _typed("Middle side", "", "1.2 m")
    shortest = _typed("Shortest side", "", "0.6 m")
    mass = _typed("Most a section may weigh", "As cast, with the studio's usual lay-up. Such as 50 kg.", "50 kg")

    def clean(self) -> dict[str, Any]:
        """All three sides, or a mass, or both."""
        cleaned = super().clean() or {}
        self.sides: list[float] = []
        self.mass_kg: float | None = None
        for name in ("longest", "middle", "shortest"):
            if cleaned.get(name):
                self.sides.append(self._quantity(name, "length"))
        if cleaned.get("mass"):
            self.mass_kg = self._quantity("mass", "mass")
        if not self.errors and len(self.sides) not in (0, 3):
            self.add_error(None, "Enter all three sides, or leave all three blank.")
        if not self.errors and not self.sides and self.mass_kg is None:
            self.add_error(None, "Enter the three sides, or how much a section may weigh, or both.")
        return cleaned

    def _quantity(self, name: str, kind: Kind) -> float:
        try:
            return parse(self.cleaned_data[name], kind, str(self.fields[name].label).lower())
        except EstimatorError as error:
            self.add_error(name, str(error))
            return 0.0

    def words(self) -> str:
        """What was asked, in words."""
        given = self.cleaned_data
        sides = " × ".join(given[name] for name in ("longest", "middle", "shortest")) if self.sides else ""
        mass = f"at most {given['mass']}" if self.mass_kg is not None else ""
        return ", ".join(part for part in (sides, mass) if part)


class NamesForm(forms.Form):
    """What the sections are to be called."""

    def __init__(self, parts: list[str], *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.parts = parts
        for part in parts:
            self.fields[f"name_{part}"] = forms.CharField(
                label=f"Section {part}",
                max_length=60,
                error_messages={"required": "Enter what this part is called, such as Foot."},
            )

    def names(self) -> dict[str, str]:
        """Each part's name."""
        return {part: self.cleaned_data[f"name_{part}"] for part in self.parts}
