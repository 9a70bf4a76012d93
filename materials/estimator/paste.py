"""Paste: resin thickened with a filler, for fairing, fillets and bonding.

Masses and volumes add, so the density of the paste follows by definition; how
much filler a paste takes is common practice, no source, and the studio's
figure. Catalyst is reckoned on the resin alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.lines import Term
from materials.estimator.mix import filled_resin
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned, product

FILLERS: Mapping[str, str] = {
    "talc": "talc",
    "chalk": "chalk",
    "bubbles": "glass bubbles",
    "silica": "fumed silica",
}
"""Fillers by the key of their figures: ``filler_density_<key>`` and ``filler_parts_<key>``."""

RESIN_PARTS = 100.0
_LITRES = Term("litres to a cubic metre", 1000.0, "l/m^3", "by definition")
_WHOLE = Term("parts of resin", RESIN_PARTS, "", "by definition")


@dataclass(frozen=True, slots=True)
class Paste:
    """A paste that fills an area to a depth.

    Attributes
    ----------
    volume : Reckoned
        [l]
    density : Reckoned
        [kg/m^3]
    amount, resin : Reckoned
        All of it with waste, and the resin in it [kg].
    parts : Term
        Filler to 100 of resin, by mass.
    filler_share : float
        Of the volume [dimensionless].
    """

    volume: Reckoned
    density: Reckoned
    amount: Reckoned
    resin: Reckoned
    parts: Term
    filler_share: float

    def filler_to(self, resin: Term) -> Reckoned:
        """The filler to so much of the resin.

        Parameters
        ----------
        resin : Term
            [kg]

        Returns
        -------
        Reckoned
            [kg]; by definition.
        """
        return product("filler to one batch", "kg", [resin, self.parts], [_WHOLE])


def paste(*, area: Term, depth: Term, resin_density: Term, filler_density: Term, parts: Term, waste: Term) -> Paste:
    """What fills an area to a depth.

    Parameters
    ----------
    area, depth : Term
        What is filled [m^2], and how deep on average [m].
    resin_density, filler_density : Term
        Of the liquid resin and of the solid filler [kg/m^3].
    parts : Term
        Filler to 100 of resin, by mass.
    waste : Term
        Resin waste [dimensionless].

    Returns
    -------
    Paste
        By definition: masses and volumes add.

    Raises
    ------
    OutOfRange
        For an area or a depth that is none, or more filler than a hand can stir in.
    """
    within("Area to fill", area.value, "m2", 1e-6, 1000)
    within("Depth of the paste", 1000 * depth.value, "mm", 0.1, 50, "Fill deeper places in layers, or pack them first.")
    within("Filler to 100 of resin", parts.value, "", 0.1, 500)
    mixed = filled_resin(RESIN_PARTS, resin_density.value, parts.value, filler_density.value)
    volume = product("paste", "l", [area, depth, _LITRES])
    sides = f"({_WHOLE.label} + {parts.label})"
    each = f"({_WHOLE.label} ÷ {resin_density.label} + {parts.label} ÷ {filler_density.label})"
    terms = (_WHOLE, parts, resin_density, filler_density)
    density = Reckoned("density of the paste", mixed.density_kg_m3, "kg/m^3", f"{sides} ÷ {each}", terms)
    amount_kg = volume.value * density.value / _LITRES.value * (1 + waste.value)
    words = f"{volume.name} × {density.name} ÷ {_LITRES.label} × (1 + {waste.label})"
    amount = Reckoned("all of the paste", amount_kg, "kg", words, (volume.term, density.term, _LITRES, waste))
    resin_kg = amount_kg * RESIN_PARTS / (RESIN_PARTS + parts.value)
    words = f"{amount.name} × {_WHOLE.label} ÷ {sides}"
    resin = Reckoned("resin in all of it", resin_kg, "kg", words, (amount.term, _WHOLE, parts))
    return Paste(volume, density, amount, resin, parts, mixed.filler_share)
