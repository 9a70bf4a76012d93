"""A commission as it stands: every cast in its place, its sides to the wind, its foot, where it balances."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.delivery.balance import Balance, LoadPart, balanced
from jobs.delivery.shadow import Rings
from jobs.loads import SAME_FLOOR_M, back_m_of, base_part, cast_parts, middle_of_feet
from jobs.pictures.outlines import footing
from jobs.sheets.known import Job
from jobs.specs import shape_spec
from materials.drawing import stack
from materials.estimator.errors import Missing
from materials.estimator.form import Form
from materials.estimator.lines import Term
from materials.estimator.outline import Outline, ViewName
from materials.specfile import read_shape

FACES: tuple[ViewName, ...] = ("front", "side")


@dataclass(frozen=True, slots=True)
class Stood:
    """One cast in its place: its form, outlines and parts, the middle of its extents and its foot [m]."""

    form: Form
    outlines: Mapping[ViewName, Outline]
    parts: tuple[LoadPart, ...]
    x_m: float
    y_m: float
    z_m: float
    mirrored: bool


def stood_of(job: Job) -> list[Stood]:
    """Every cast of a commission where the drawing has it; raises EstimatorError where it cannot be worked."""
    shapes = [read_shape(shape_spec(section), section.name) for section in job.sections]
    footings = [footing(section, shape.form()) for section, shape in zip(job.sections, shapes, strict=True)]
    found = []
    rows = zip(job.sections, shapes, job.spec.sections, job.take_off.sections, stack(footings), strict=True)
    for section, shape, spec, measures, places in rows:
        outlines = {view: shape.outline(view) for view in FACES}
        back_m, named = back_m_of(section), f" of {section.name}"
        for at in places:
            parts = tuple(cast_parts(section, spec, measures, at, named=named, back_m=back_m))
            found.append(Stood(spec.form, outlines, parts, at.x_m, back_m, at.z_m, at.mirrored))
    return found


def silhouettes(stood: Sequence[Stood], view: ViewName) -> list[Rings]:
    """The outlines of everything in its place, from the front or from the side."""
    found: list[Rings] = []
    for each in stood:
        across_m = each.x_m if view == "front" else each.y_m
        turned = -1.0 if each.mirrored and view == "front" else 1.0
        rings = each.outlines[view].silhouette
        found.append([[(across_m + turned * x, each.z_m + z) for x, z in ring] for ring in rings])
    return found


def foot_of(stood: Sequence[Stood], entered_m: float | None, *, wide: bool) -> Term:
    """The base from edge to edge: as entered, or round the feet on the floor."""
    label = "base from left to right" if wide else "base from front to back"
    if entered_m is not None:
        return Term(label, entered_m, "m", "the commission's base, or entered on this sheet")
    ends = []
    for each in _on_the_floor(stood):
        own_m = each.form.stations[0].length_m if wide else each.form.stations[0].width_m
        middle_m = each.x_m if wide else each.y_m
        ends += [middle_m - own_m / 2, middle_m + own_m / 2]
    if max(ends) - min(ends) <= 0:
        raise Missing(label.capitalize(), "its own foot is a point or an edge; enter the base that it stands on.")
    return Term(label, max(ends) - min(ends), "m", "its own foot, from the take-off")


def middle_of(stood: Sequence[Stood], *, wide: bool) -> float:
    """The middle of the feet on the floor, to the right or to the back [m]."""
    return middle_of_feet([(each.x_m if wide else each.y_m, each.z_m) for each in stood])


def balance_of_all(stood: Sequence[Stood], base_kg: float) -> Balance:
    """Shells, metal and base together; the base lies under the middle of the feet."""
    base = base_part(base_kg, 0.0, aside_m=middle_of(stood, wide=True), behind_m=middle_of(stood, wide=False))
    return balanced([*(part for each in stood for part in each.parts), base])


def _on_the_floor(stood: Sequence[Stood]) -> list[Stood]:
    floor_m = min(each.z_m for each in stood)
    return [each for each in stood if each.z_m <= floor_m + SAME_FLOOR_M]
