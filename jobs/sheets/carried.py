"""What the sheets of handling and lifting ask alike: which piece of a mould, and what scales showed."""

from collections.abc import Mapping
from typing import Any

from django import forms

from jobs.delivery.balance import Balance, balanced, weighed
from jobs.loads import Load, cast_load, piece_load, whole_load
from jobs.mould_pieces import patches_of, piece_masses
from jobs.sheets.kind import SheetForm
from jobs.sheets.known import Subject
from materials.estimator.errors import Missing
from materials.estimator.lines import Term
from materials.units import format_quantity
from studio.forms import choose
from studio.quantities import QuantityField

SCALES = {
    "scale_left": ("scale on the left", "kg"),
    "scale_right": ("scale on the right", "kg"),
    "scales_apart": ("from one scale to the other", "m"),
}


class CarriedForm(SheetForm):
    """A load that may be a piece of a mould, and may have been weighed."""

    heaviest = ""
    piece = forms.ChoiceField(label="Piece of the mould", error_messages=choose("Choose a piece of the mould."))
    scale_left = QuantityField(
        kind="mass",
        system="metric",
        allow_zero=True,
        required=False,
        label="Weighed: scale under its left end",
        help_text="Once it has been on two scales, each as far from its middle. Left blank: as reckoned.",
    )
    scale_right = QuantityField(
        kind="mass", system="metric", allow_zero=True, required=False, label="Weighed: scale under its right end"
    )
    scales_apart = QuantityField(
        kind="length", system="metric", required=False, label="Weighed: from one scale to the other"
    )

    @property
    def begun_piece(self) -> str:
        """The piece that was asked for, else the heaviest; "" where none is asked for."""
        choices = [key for key, _ in self.fields["piece"].choices] if "piece" in self.fields else []  # type: ignore[attr-defined]
        asked = self.asked.get("piece", "")
        return asked if asked in choices else self.heaviest

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The heaviest piece, where a model tells pieces apart; elsewhere none is asked for."""
        if subject.stage != "mould" or len(patches_of(subject)) < 2:
            del self.fields["piece"]
            return {}
        masses = [mass.value for mass in piece_masses(subject)]
        said = [format_quantity(mass_kg, "mass", subject.job.units) for mass_kg in masses]
        self.offer("piece", [(str(number), f"{number}: {words}") for number, words in enumerate(said, start=1)])
        # Of pieces that are alike but for rounding, the first.
        heaviest = next(mass for mass in masses if mass >= max(masses) * (1 - 1e-6))
        self.heaviest = str(masses.index(heaviest) + 1)
        return {"piece": self.heaviest}


def load_of(subject: Subject, piece: str = "") -> Load:
    """The piece of the mould, the cast, or the whole where no section is named."""
    if subject.stage == "mould":
        return piece_load(subject, int(piece or 1))
    return cast_load(subject) if subject.section else whole_load(subject.job)


def balance_of(load: Load, asked: Mapping[str, Any]) -> Balance:
    """Where a load balances: as reckoned, or with what two scales showed."""
    reckoned = balanced(load.parts)
    given = {name: asked[name] for name in SCALES if asked.get(name) is not None}
    if not given:
        return reckoned
    if len(given) < len(SCALES):
        raise Missing(
            "Weighing", "give what both scales showed and how far apart they stood, or leave all three blank."
        )
    left, right, apart = (Term(words, given[name], unit, "entered: weighed") for name, (words, unit) in SCALES.items())
    return weighed(reckoned, left, right, apart)
