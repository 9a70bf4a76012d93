"""The one entry: a job in, everything it needs out, line by line with its working.

Sections do not touch one another, so the work grows with their number and
nothing else. Formulas and figures name their sources where they stand, or say
"common practice, no source".
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from materials.estimator.cast import cast_stage
from materials.estimator.cautions import cautions_of
from materials.estimator.counts import counts_of
from materials.estimator.finish import finish_stage
from materials.estimator.hours import NormKey, StepNorm, hour_lines, norms_by_key
from materials.estimator.lines import Caution, HourLine, Line, SectionFigures, TakeOff
from materials.estimator.mould import mould_stage
from materials.estimator.pattern import pattern_stage
from materials.estimator.seams import seams_of
from materials.estimator.sending import crate_stage, metalwork_stage
from materials.estimator.spec import JobSpec, SectionSpec
from materials.estimator.working import Basis, basis_of


def take_off(spec: JobSpec) -> TakeOff:
    """What a job needs: materials and sent-out work, hours, measures, cautions.

    Parameters
    ----------
    spec : JobSpec
        Without norms the job is worked without hours.

    Returns
    -------
    TakeOff
        Lines and hours by section in the order given, then by stage.

    Raises
    ------
    OutOfRange
        For a figure that cannot be worked with.
    Missing
        When a studio figure or a norm that the job needs is not there.
    """
    basis = basis_of(spec)
    norms = norms_by_key(spec.norms)
    sections = [_take_off_section(section, basis, norms) for section in spec.sections]
    return TakeOff(
        name=spec.name,
        sections=tuple(section.figures for section in sections),
        lines=tuple(line for section in sections for line in section.lines),
        hours=tuple(line for section in sections for line in section.hours),
        warnings=tuple(caution for section in sections for caution in section.warnings),
    )


@dataclass(frozen=True, slots=True)
class _SectionTakeOff:
    figures: SectionFigures
    lines: tuple[Line, ...]
    hours: tuple[HourLine, ...]
    warnings: tuple[Caution, ...]


def _take_off_section(section: SectionSpec, basis: Basis, norms: Mapping[NormKey, StepNorm]) -> _SectionTakeOff:
    counts = counts_of(section, basis.value("pulls_per_mould"))
    seams = seams_of(section, basis)
    pattern, pattern_lines = pattern_stage(section, counts, basis)
    mould, mould_lines = mould_stage(section, seams, counts, basis)
    cast, cast_lines = cast_stage(section, seams, counts, basis)
    finish_kg, finish_lines = finish_stage(section, seams, counts, basis)
    cast = replace(cast, finish_kg=finish_kg)
    form = section.form
    figures = SectionFigures(
        name=section.name,
        area_m2=form.area_m2,
        volume_m3=form.volume_m3,
        seam_m=seams.joined.value,
        length_m=form.length_m,
        width_m=form.width_m,
        height_m=form.height_m,
        patterns=counts.patterns,
        moulds=counts.moulds,
        casts=counts.casts,
        pattern=pattern,
        mould=mould,
        cast=cast,
    )
    return _SectionTakeOff(
        figures=figures,
        lines=(
            *pattern_lines,
            *mould_lines,
            *cast_lines,
            *finish_lines,
            *metalwork_stage(section, counts, basis),
            *crate_stage(section, counts, basis),
        ),
        hours=hour_lines(section, seams, counts, basis, norms) if norms else (),
        warnings=cautions_of(section, counts, pattern, mould, cast, basis),
    )
