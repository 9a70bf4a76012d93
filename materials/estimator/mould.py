"""The mould: skin, returns, bolts, parting walls and backing frames.

Returns carry the lay-up of the skin and, where the lay-up says so, more layers
of its first ply. Common practice, no source.
"""

import math
from collections.abc import Iterator

from materials.estimator.counts import Counts
from materials.estimator.laminate import stack_of
from materials.estimator.lines import Line, MouldFigures, Term
from materials.estimator.plies import Laid, glass_lines, resin_line
from materials.estimator.ranges import rounded_up, within
from materials.estimator.seams import Seams
from materials.estimator.spec import SectionSpec
from materials.estimator.working import Basis, Place, catalyst_line, needed, part, worked


def bolts_on_open_seam(seam_m: float, end_m: float, pitch_m: float) -> int:
    """Bolts along a seam with two ends: ceil((L - 2e)/p) + 1, and never fewer than one near each end.

    Parameters
    ----------
    seam_m : float
        Length L [m].
    end_m : float
        Distance e of the first and last bolt from the ends [m].
    pitch_m : float
        Largest pitch p [m].

    Returns
    -------
    int
        [dimensionless]; common practice, no source.

    Raises
    ------
    OutOfRange
        For a length or pitch that is none.
    """
    _check_bolts(seam_m, pitch_m)
    within("End distance", end_m, "m", 0, 1)
    return max(2, rounded_up((seam_m - 2 * end_m) / pitch_m) + 1)


def bolts_on_closed_seam(loop_m: float, pitch_m: float) -> int:
    """Bolts along a seam that runs round without an end: ceil(L/p).

    Parameters
    ----------
    loop_m : float
        Length L [m].
    pitch_m : float
        Largest pitch p [m].

    Returns
    -------
    int
        [dimensionless]; common practice, no source.

    Raises
    ------
    OutOfRange
        For a length or pitch that is none.
    """
    _check_bolts(loop_m, pitch_m)
    return rounded_up(loop_m / pitch_m)


def _check_bolts(seam_m: float, pitch_m: float) -> None:
    within("Seam", seam_m, "m", 1e-9, None)
    within("Bolt pitch", pitch_m, "m", 0.01, 2)


def draft_opening_m(depth_m: float, draft_deg: float) -> float:
    """How much wider a mould is at its mouth, to a side: depth × tan(draft).

    Parameters
    ----------
    depth_m : float
        Depth of the mould [m].
    draft_deg : float
        Angle of its sides to the way it is drawn [deg].

    Returns
    -------
    float
        [m]; closed form.

    Raises
    ------
    OutOfRange
        For a depth below nothing, or an angle outside 0 to 45 degrees.
    """
    within("Depth of the mould", depth_m, "m", 0, None)
    within("Draft", draft_deg, "degrees", 0, 45)
    return depth_m * math.tan(math.radians(draft_deg))


def mould_stage(
    section: SectionSpec, seams: Seams, counts: Counts, basis: Basis
) -> tuple[MouldFigures, tuple[Line, ...]]:
    """Everything a section's moulds take.

    Parameters
    ----------
    section : SectionSpec
    seams : Seams
    counts : Counts
    basis : Basis

    Returns
    -------
    tuple of MouldFigures and tuple of Line
        Figures of one mould; lines for all of them.

    Raises
    ------
    Missing
        When a studio figure is not there.
    OutOfRange
        For a studio figure that cannot be worked with.
    """
    spec = section.mould
    densities = basis.value("glass_density"), basis.value("resin_density_cured")
    area_m2 = section.form.area_m2 + seams.returns_m2
    areal_kg_m2 = spec.layup.gel_coat_kg_m2 + stack_of(spec.layup.plies, *densities).laminate_kg_m2
    extra_kg_m2 = stack_of(spec.layup.extra_plies, *densities).laminate_kg_m2
    frames_kg = spec.pieces * spec.frame_kg_per_piece
    returns_kg = seams.returns_m2 * (areal_kg_m2 + extra_kg_m2)
    mass_kg = section.form.area_m2 * areal_kg_m2 + returns_kg + frames_kg
    bolts = _bolts(section, seams, basis)
    figures = MouldFigures(
        area_m2=area_m2,
        mass_kg=mass_kg,
        piece_mass_kg=mass_kg / spec.pieces,
        bolts=bolts,
        pieces=spec.pieces,
        returns_kg=returns_kg,
    )
    return figures, needed(
        (*_laminate_lines(section, seams, counts, basis), *_fitting_lines(section, seams, counts, basis, bolts))
    )


def _laminate_lines(section: SectionSpec, seams: Seams, counts: Counts, basis: Basis) -> Iterator[Line]:
    place, layup = Place(section.name, "mould"), section.mould.layup
    skin = (Term("skin area", section.form.area_m2, "m^2", section.form.origin),)
    returns = (seams.run, seams.sides, seams.width)
    moulds = [counts.mould_term]
    origin = f"lay-up {layup.name}"
    gel = Term("tooling gel coat", layup.gel_coat_kg_m2, "kg/m^2", origin)
    both = [part(skin), part(returns)]
    gel_line = worked(place, "tooling_gel_coat", "kg", both, [gel, *moulds], [basis.gel_coat_waste])
    laid = [
        Laid(skin, layup.plies, "in the lay-up", origin),
        Laid(returns, layup.plies, "in the lay-up", origin),
        Laid(returns, layup.extra_plies, "more on the returns", origin),
    ]
    resin = resin_line(place, laid, moulds, basis)
    yield gel_line
    yield from glass_lines(place, laid, moulds, basis)
    yield resin
    yield catalyst_line(place, basis, needed((gel_line, resin)))
    yield worked(place, "release_film", "l", both, moulds, per=[basis.term("release_film_cover")])
    yield worked(place, "acetone", "l", both, [basis.term("acetone"), *moulds])


def _fitting_lines(section: SectionSpec, seams: Seams, counts: Counts, basis: Basis, bolts: int) -> Iterator[Line]:
    place, spec, moulds = Place(section.name, "mould"), section.mould, [counts.mould_term]
    pieces = Term("pieces", spec.pieces, "", "this section")
    frame = Term("backing frame of a piece", spec.frame_kg_per_piece, "kg", "this section")
    yield worked(place, "backing_frame", "kg", [part([pieces, frame])], moulds)
    if spec.pieces > 1:
        sheet = part([seams.run, seams.width])
        yield worked(place, "parting_sheet", "m2", [sheet], moulds, [basis.term("sheet_waste")])
        yield _bolt_line(place, section, seams, counts, basis, bolts)


def _bolts(section: SectionSpec, seams: Seams, basis: Basis) -> int:
    if section.mould.pieces == 1:
        return 0
    pitch_m = basis.value("bolt_pitch")
    if section.mould.seam_closed:
        return bolts_on_closed_seam(seams.run.value, pitch_m)
    return bolts_on_open_seam(seams.run.value, basis.value("bolt_end"), pitch_m)


def _bolt_line(place: Place, section: SectionSpec, seams: Seams, counts: Counts, basis: Basis, bolts: int) -> Line:
    seam, pitch, end, moulds = seams.run, basis.term("bolt_pitch"), basis.term("bolt_end"), counts.mould_term
    terms: tuple[Term, ...]
    if section.mould.seam_closed:
        formula, terms = f"rounded up({seam.label} ÷ {pitch.label}) × {moulds.label}", (seam, pitch, moulds)
    elif seam.value <= 2 * end.value + pitch.value:
        least = Term("bolts to a seam", bolts, "", "one near each end is the least")
        formula, terms = f"{least.label} × {moulds.label}", (least, moulds)
    else:
        formula = f"(rounded up(({seam.label} − 2 × {end.label}) ÷ {pitch.label}) + 1) × {moulds.label}"
        terms = (seam, end, pitch, moulds)
    many = float(bolts * counts.moulds)
    return Line(place.section, place.stage, "mould_bolt", many, many, "each", formula, terms)
