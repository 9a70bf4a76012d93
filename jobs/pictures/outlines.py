"""The outline drawing of a commission and of a section, as the SVG that pages and documents hold.

The SVG is made by ``materials.drawing`` alone, which escapes every word in it;
that is why it may be put into a page as it is.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.safestring import SafeString

from jobs.models import Commission, CommissionModel, Section, Shape
from jobs.specs import shape_spec, signed_length_m
from materials.drawing import HATCHED_STAGES, Footing, Placed, drawing_svg, stack
from materials.drawing.hatches import patterns
from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form
from materials.estimator.outline import ViewName
from materials.specfile import MESH, read_shape
from materials.units import parse

NOT_YET = SafeString('<p class="soft">No drawing yet: it comes with the first section\'s dimensions.</p>')


def footing(section: Section, form: Form) -> Footing:
    """A section before it is placed, with the height and offset that were typed; raises EstimatorError."""
    stand = parse(section.stand, "length", "stand", allow_zero=True) if section.stand else None
    return Footing(form, stand, signed_length_m(section.offset), section.mirrored)


def svg_of(
    sections: Sequence[Section],
    *,
    title: str,
    uid: str,
    views: Sequence[ViewName],
    units: str,
    reached: Mapping[int, str] | None = None,
) -> str:
    """The sections in their places, each in the hatch of the stage it has ``reached``, by its key.

    Raises EstimatorError where one of them cannot be read.
    """
    shapes = [read_shape(shape_spec(section), section.name) for section in sections]
    places = stack([footing(section, shape.form()) for section, shape in zip(sections, shapes, strict=True)])
    placed = [
        Placed(
            section.name,
            {view: shape.outline(view) for view in views},
            x_m=at.x_m,
            y_m=section.dimensions["y_m"] if section.shape == Shape.MESH else 0.0,
            z_m=at.z_m,
            mirrored=at.mirrored,
            hatch=(reached or {}).get(section.pk),
        )
        for section, shape, standing in zip(sections, shapes, places, strict=True)
        for at in standing
    ]
    return drawing_svg(placed, views, title=title, uid=uid, units="us" if units == "us" else "metric")


def drawing_of_commission(
    commission: Commission, sections: Sequence[Section], units: str, reached: Mapping[int, str] | None = None
) -> SafeString:
    """Front and side of the whole, for a page; with the stage that each section has reached, by its key."""
    try:
        drawn = svg_of(
            sections,
            title=f"{commission.title}, front and side",
            uid=f"c{commission.pk}",
            views=("front", "side"),
            units=units,
            reached=reached,
        )
    except EstimatorError:
        # The sheet itself says what is wrong with the section.
        return NOT_YET
    return SafeString(drawn)


def hatches(uid: str) -> SafeString:
    """The hatches of stages as definitions, for bars that are filled with ``url(#<uid>-<stage>)``."""
    return SafeString(patterns(uid, HATCHED_STAGES))


def drawing_of_section(section: Section, units: str) -> SafeString:
    """One section alone, standing on the floor."""
    alone = Section(
        name=section.name,
        shape=section.shape,
        dimensions=section.dimensions,
        scale_from=section.scale_from,
        scale_to=section.scale_to,
    )
    try:
        drawn = svg_of([alone], title=section.name, uid="section", views=("front", "side", "plan"), units=units)
    except EstimatorError:
        return NOT_YET
    return SafeString(drawn)


def drawing_of_model(model: CommissionModel, units: str) -> SafeString:
    """A model as it stands, beside a person, so that a wrong unit is seen at once."""
    shape = read_shape({"shape": MESH, **_drawn(model.figures)}, model.name)
    views: tuple[ViewName, ...] = ("front", "side", "plan")
    placed = [Placed(model.name, {view: shape.outline(view) for view in views})]
    title = f"{model.name}, front, side and plan"
    return SafeString(drawing_svg(placed, views, title=title, uid="model", units="us" if units == "us" else "metric"))


def drawing_of_model_apart(model: CommissionModel, units: str) -> SafeString:
    """The sections moved away from each other, so that each is seen."""
    views: tuple[ViewName, ...] = ("front", "side")
    placed = []
    for part in model.cut["sections"]:
        shape = read_shape({"shape": MESH, **_drawn(part)}, part["name"])
        outlines = {view: shape.outline(view) for view in views}
        placed.append(Placed(f"Section {part['name']}", outlines, *part["apart_m"]))
    title = f"{model.name}, its sections apart"
    drawn = drawing_svg(
        placed, views, title=title, uid="apart", dimensions=False, units="us" if units == "us" else "metric"
    )
    return SafeString(drawn)


def _drawn(part: dict[str, Any]) -> dict[str, Any]:
    return {"form": part["form"], "outlines": part["outlines"]}
