"""Seams of a mould: their length, and the returns that stand along them.

An entered seam comes first, then one measured on a model; otherwise it is estimated.
A mould in one piece has no seam of its own: its one return runs round the open
rim, and the cast is joined along that rim only if its length is entered.
Common practice, no source.
"""

import math
from dataclasses import dataclass

from materials.estimator.lines import Term
from materials.estimator.ranges import whole, within
from materials.estimator.shapes import ellipse_perimeter_m
from materials.estimator.spec import SectionSpec
from materials.estimator.working import Basis


def estimated_seam_m(area_m2: float, pieces: int, form_factor: float) -> float:
    """Length of seam of a roughly round form: sqrt(pi A) log2(pieces) × form factor.

    Exact for a sphere cut by great circles square to each other into 2, 4 or 8.

    Parameters
    ----------
    area_m2 : float
        Skin area A [m^2].
    pieces : int
    form_factor : float
        1 for a round form, more for figures [dimensionless]; common practice, no source.

    Returns
    -------
    float
        [m]

    Raises
    ------
    OutOfRange
        For an area that is none, no piece, or a factor outside 0.5 to 5.
    """
    within("Skin area", area_m2, "m2", 1e-9, None)
    whole("Mould pieces", pieces, "", 1, 60)
    within("Seam form factor", form_factor, "", 0.5, 5)
    return math.sqrt(math.pi * area_m2) * math.log2(pieces) * form_factor


@dataclass(frozen=True, slots=True)
class Seams:
    """Where a mould comes apart.

    Attributes
    ----------
    joined : Term
        Length along which the cast is joined inside [m].
    run : Term
        Length along which the returns stand [m].
    sides : Term
        Returns to a metre of that: 2 at a seam, 1 at a rim.
    width : Term
        Width of a return [m].
    """

    joined: Term
    run: Term
    sides: Term
    width: Term

    @property
    def returns_m2(self) -> float:
        """Area of the returns [m^2]."""
        return self.run.value * self.sides.value * self.width.value


def seams_of(section: SectionSpec, basis: Basis) -> Seams:
    """Seams and returns of a section's mould.

    Parameters
    ----------
    section : SectionSpec
    basis : Basis

    Returns
    -------
    Seams

    Raises
    ------
    Missing
        When a studio figure is not there.
    OutOfRange
        For a seam form factor no form has.
    """
    form, mould = section.form, section.mould
    width = Term("return width", mould.return_width_m, "m", "this section")
    given_m, origin = mould.seam_m, "entered"
    if given_m is None and form.seam_m is not None:
        given_m, origin = form.seam_m, "measured on the model"
    if mould.pieces == 1:
        sides = Term("returns to a rim", 1, "", "a mould in one piece")
        if given_m is not None:
            joined = Term("rim", given_m, "m", origin)
            return Seams(joined, joined, sides, width)
        rim_m = ellipse_perimeter_m(form.length_m / 2, form.width_m / 2)
        rim = Term("rim", rim_m, "m", "estimated: an oval in the extents seen from above")
        return Seams(Term("seam", 0.0, "m", "a mould in one piece"), rim, sides, width)
    sides = Term("returns to a seam", 2, "", "one on either piece")
    if given_m is None:
        factor = basis.term("seam_form_factor").value
        given_m = estimated_seam_m(form.area_m2, mould.pieces, factor)
        origin = f"estimated: √(π × skin area) × log₂({mould.pieces} pieces) × {factor:g} for the form"
    seam = Term("seam", given_m, "m", origin)
    return Seams(seam, seam, sides, width)
