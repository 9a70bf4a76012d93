"""Jobs for tests: one section with everything in it, of which a test says only what it is about."""

from dataclasses import replace
from typing import Any

from materials.estimator.form import Form
from materials.estimator.lines import HourLine, Line, SectionFigures, TakeOff
from materials.estimator.reference import studio_figures
from materials.estimator.shapes import Shape, Sphere, form_of
from materials.estimator.spec import (
    Allowances,
    CastSpec,
    JobSpec,
    Joining,
    LayUp,
    MouldSpec,
    PatternSpec,
    Ply,
    SectionSpec,
)
from materials.estimator.takeoff import take_off

STUDIO = studio_figures()
BALL = Sphere(1.6)
MAT = Ply("csm", 0.45, 0.30, 3)


def form(shape: Shape = BALL, **changes: Any) -> Form:
    """The form of a shape, with single figures changed."""
    return replace(form_of(shape), **changes)


def section(shape: Shape | Form = BALL, **changes: Any) -> SectionSpec:
    """A section; changes go to the part of it that has the field."""
    parts: dict[str, Any] = {
        "pattern": PatternSpec("carved", STUDIO.block, 5.0, 3, 5),
        "mould": MouldSpec(4, None, 0.09, LayUp("Mould", 0.8, (Ply("csm", 0.45, 0.30, 8),)), 6.0),
        "cast": CastSpec(1, LayUp("Skin", 0.6, (MAT,)), Joining(0.15, 2, Ply("csm", 0.45, 0.30))),
    }
    for key, part in parts.items():
        own = {name: changes.pop(name) for name in list(changes) if name in part.__slots__ and name != "layup"}
        if f"{key}_layup" in changes:
            own["layup"] = changes.pop(f"{key}_layup")
        parts[key] = replace(part, **own)
    base = SectionSpec(
        name="Ball",
        form=shape if isinstance(shape, Form) else form_of(shape),
        grade="B",
        coats=STUDIO.paint_systems["Outdoor paint"],
        **parts,
    )
    return replace(base, **changes)


def job(*sections: SectionSpec, **changes: Any) -> JobSpec:
    """A job by the figures as delivered, with the glass allowance in one piece."""
    base = JobSpec(
        name="Test",
        sections=sections or (section(),),
        allowances=Allowances(gel_coat=0.15, glass=0.15, overlap=0.0, resin=0.10),
        catalyst_percent=2.0,
        coefficients=STUDIO.coefficients,
        norms=STUDIO.norms,
    )
    return replace(base, **changes)


def with_figure(spec: JobSpec, key: str, value: float) -> JobSpec:
    """The job by a studio figure of another value."""
    changed = replace(spec.coefficients[key], value=value)
    return replace(spec, coefficients={**spec.coefficients, key: changed})


def worked(shape: Shape | Form = BALL, **changes: Any) -> TakeOff:
    """The take-off of one such section."""
    return take_off(job(section(shape, **changes)))


def line(taken: TakeOff, stage: str, material: str) -> Line:
    """The one line of a stage and material."""
    (found,) = [each for each in taken.lines if (each.stage, each.material) == (stage, material)]
    return found


def has_line(taken: TakeOff, stage: str, material: str) -> bool:
    """Whether a stage asks for a material."""
    return any((each.stage, each.material) == (stage, material) for each in taken.lines)


def hours(taken: TakeOff, stage: str, step: str) -> HourLine:
    """The one hour line of a stage and step."""
    (found,) = [each for each in taken.hours if (each.stage, each.step) == (stage, step)]
    return found


def figures(taken: TakeOff) -> SectionFigures:
    """The measures of the one section."""
    (found,) = taken.sections
    return found


def codes(taken: TakeOff) -> set[str]:
    """The cautions by their codes."""
    return {caution.code for caution in taken.warnings}
