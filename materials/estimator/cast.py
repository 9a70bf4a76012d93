"""The casts: release, gel coat, plies, and the strips that join them inside.

What is bought carries the waste; what a cast weighs is net, as waste never
ends up in it. A cut edge is trimmed from what the glass allowance covers.
Common practice, no source.
"""

from collections.abc import Iterator

from materials.estimator.counts import Counts
from materials.estimator.laminate import gel_coat_mm, stack_of
from materials.estimator.lines import CastFigures, Line, Term
from materials.estimator.mould import bolts_on_open_seam
from materials.estimator.plies import Laid, glass_lines, resin_line
from materials.estimator.seams import Seams
from materials.estimator.spec import SectionSpec
from materials.estimator.working import Basis, Place, catalyst_line, needed, part, worked


def wax_coats_of_run(pulls: int, first: float, second: float, later: float) -> float:
    """Wax coats a mould gets over a run of casts.

    Parameters
    ----------
    pulls : int
    first, second, later : float
        Coats before the first cast, the second, and each later one [dimensionless].

    Returns
    -------
    float
        [dimensionless]

    References
    ----------
    A mould polish supplier's instructions.
    """
    return first + (second if pulls > 1 else 0.0) + later * max(0, pulls - 2)


def cast_stage(
    section: SectionSpec, seams: Seams, counts: Counts, basis: Basis
) -> tuple[CastFigures, tuple[Line, ...]]:
    """Everything a section's casts take.

    Parameters
    ----------
    section : SectionSpec
    seams : Seams
    counts : Counts
    basis : Basis

    Returns
    -------
    tuple of CastFigures and tuple of Line
        Figures of one cast; lines for all of them.

    Raises
    ------
    Missing
        When a studio figure is not there.
    OutOfRange
        For a studio figure that cannot be worked with.
    """
    layup, joining = section.cast.layup, section.cast.joining
    densities = basis.value("glass_density"), basis.value("resin_density_cured")
    skin = stack_of(layup.plies, *densities)
    strips = stack_of(joining.plies, *densities)
    strip_m2 = seams.joined.value * joining.strip_width_m
    figures = CastFigures(
        thickness_mm=gel_coat_mm(layup.gel_coat_kg_m2, basis.value("gel_coat_density")) + skin.thickness_mm,
        mass_kg=section.form.area_m2 * (layup.gel_coat_kg_m2 + skin.laminate_kg_m2) + strip_m2 * strips.laminate_kg_m2,
        metal_kg=section.metal_kg,
    )
    lines = (*_release_lines(section, counts, basis), *_laminate_lines(section, seams, counts, basis))
    return figures, needed((*lines, *_joining_bolts(section, seams, counts, basis)))


def _release_lines(section: SectionSpec, counts: Counts, basis: Basis) -> Iterator[Line]:
    place = Place(section.name, "cast")
    skin = Term("skin area", section.form.area_m2, "m^2", section.form.origin)
    first, second, later = (basis.value(key) for key in ("wax_coats", "wax_coats_second_pull", "wax_coats_later_pull"))
    coats = Term(
        "wax coats on all moulds",
        sum(run.moulds * wax_coats_of_run(run.pulls, first, second, later) for run in counts.runs),
        "",
        f"studio figures: {first:g} coats on a new mould, {second:g} before its second cast, "
        f"{later:g} before each later one; {counts.made}",
    )
    yield worked(place, "wax", "kg", [part([skin, coats, basis.term("wax")])])
    film = part([skin], per=[basis.term("release_film_cover")])
    yield worked(place, "release_film", "l", [film], [counts.cast_term])


def _laminate_lines(section: SectionSpec, seams: Seams, counts: Counts, basis: Basis) -> Iterator[Line]:
    place, layup, joining = Place(section.name, "cast"), section.cast.layup, section.cast.joining
    skin = (Term("skin area", section.form.area_m2, "m^2", section.form.origin),)
    strips = (seams.joined, Term("strip width", joining.strip_width_m, "m", "joining of this section"))
    casts = [counts.cast_term]
    gel = Term("gel coat", layup.gel_coat_kg_m2, "kg/m^2", f"lay-up {layup.name}")
    gel_line = worked(place, "gel_coat", "kg", [part([*skin, gel])], casts, [basis.gel_coat_waste])
    laid = [
        Laid(skin, layup.plies, "in the skin", f"lay-up {layup.name}"),
        Laid(strips, joining.plies, "in the strips", "joining of this section"),
    ]
    resin = resin_line(place, laid, casts, basis)
    yield gel_line
    yield from glass_lines(place, laid, casts, basis)
    yield resin
    yield catalyst_line(place, basis, needed((gel_line, resin)))
    yield worked(place, "acetone", "l", [part(skin), part(strips)], [basis.term("acetone"), *casts])


def _joining_bolts(section: SectionSpec, seams: Seams, counts: Counts, basis: Basis) -> Iterator[Line]:
    pitch_m = section.cast.joining.bolt_pitch_m
    if pitch_m is None or seams.joined.value == 0:
        return
    bolts = Term(
        "bolts to a cast",
        bolts_on_open_seam(seams.joined.value, basis.value("bolt_end"), pitch_m),
        "",
        f"{seams.joined.label} {seams.joined.value:.4g} m at {pitch_m:g} m, one near each end",
    )
    yield worked(Place(section.name, "cast"), "joining_bolt", "each", [part([bolts])], [counts.cast_term])
