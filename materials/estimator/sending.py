"""What goes into a cast and round it before it leaves: steel, and a crate.

A crate is reckoned here from the extents alone, a first figure for the price:
common practice, no source.
"""

from materials.estimator.counts import Counts
from materials.estimator.lines import Line, Term
from materials.estimator.ranges import within
from materials.estimator.spec import SectionSpec
from materials.estimator.working import Basis, Place, part, worked


def metalwork_stage(section: SectionSpec, counts: Counts, basis: Basis) -> tuple[Line, ...]:
    """Steel of the armatures, and its galvanising by a firm outside.

    Parameters
    ----------
    section : SectionSpec
    counts : Counts
    basis : Basis

    Returns
    -------
    tuple of Line

    Raises
    ------
    Missing
        When a studio figure is not there.
    """
    if section.metal_kg == 0:
        return ()
    place, casts = Place(section.name, "metalwork"), [counts.cast_term]
    metal = part([Term("metal in a cast", section.metal_kg, "kg", "entered")])
    return (
        worked(place, "steel", "kg", [metal], casts, [basis.term("steel_waste")]),
        worked(place, "galvanising", "kg", [metal], casts),
    )


def crate_surface_m2(length_m: float, width_m: float, height_m: float, clearance_m: float) -> float:
    """Inside surface of a crate with the same clearance all round.

    Parameters
    ----------
    length_m, width_m, height_m : float
        Extents of what goes in [m].
    clearance_m : float
        To each side of it [m].

    Returns
    -------
    float
        [m^2]; closed form.

    Raises
    ------
    OutOfRange
        For an extent that is none, or a clearance below nothing.
    """
    for side_m in (length_m, width_m, height_m):
        within("Extent", side_m, "m", 1e-6, 1000)
    within("Clearance in the crate", clearance_m, "m", 0, 2)
    length, width, height = (side_m + 2 * clearance_m for side_m in (length_m, width_m, height_m))
    return 2 * (length * width + length * height + width * height)


def crate_stage(section: SectionSpec, counts: Counts, basis: Basis) -> tuple[Line, ...]:
    """Plywood and battens of the crates.

    Parameters
    ----------
    section : SectionSpec
    counts : Counts
    basis : Basis

    Returns
    -------
    tuple of Line

    Raises
    ------
    Missing
        When a studio figure is not there.
    OutOfRange
        For a clearance no crate has.
    """
    if not section.crated:
        return ()
    place, casts, form = Place(section.name, "crate"), [counts.cast_term], section.form
    clearance_m = basis.value("crate_clearance")
    surface = Term(
        "inside surface of the crate",
        crate_surface_m2(form.length_m, form.width_m, form.height_m, clearance_m),
        "m^2",
        f"{form.origin}: {form.length_m:.4g} × {form.width_m:.4g} × {form.height_m:.4g} m, "
        f"{clearance_m:g} m clear all round",
    )
    batten = part([surface, basis.term("crate_batten")])
    return (
        worked(place, "crate_plywood", "m2", [part([surface])], casts, [basis.term("sheet_waste")]),
        worked(place, "crate_batten", "m", [batten], casts, [basis.term("batten_waste")]),
    )
