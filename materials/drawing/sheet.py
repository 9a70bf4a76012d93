"""The whole drawing as one SVG."""

import re
from collections.abc import Sequence

from materials.drawing import dimensions as sizing
from materials.drawing.hatches import HATCHED_STAGES, legend, pattern_id, patterns
from materials.drawing.layout import MARGIN, WIDTH, Layout, lay_out
from materials.drawing.person import HEIGHT_M, person
from materials.drawing.placing import Placed
from materials.drawing.sizes import Units, size_text
from materials.drawing.svg import FONT, INK, PAPER, SOFT, TEXT, THICK, THIN, element, escaped, label, line, path
from materials.drawing.views import Rings, Seen, View, view_of
from materials.drawing.wording import description, notes
from materials.estimator.errors import EstimatorError, Missing, UnknownChoice
from materials.estimator.outline import ViewName

_VIEWS: tuple[ViewName, ...] = ("front", "side", "plan")
_UID = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")

_ROW = 18.0
_DASHES = "7 3"


def drawing_svg(
    placed: Sequence[Placed],
    views: Sequence[ViewName] = ("front", "side"),
    *,
    title: str,
    uid: str,
    dimensions: bool = True,
    figure: bool = True,
    units: Units = "metric",
) -> str:
    """Draw sections in their places, each view to the same scale.

    Front and side stand on one floor; a plan lies under them. Sections nearer to the viewer
    cover those behind. A section known by its extents alone is dashed, and said to be so.

    Parameters
    ----------
    placed : sequence of Placed
        The sections; in a view, those equally near are drawn in this order.
    views : sequence of str
        From "front", "side" and "plan", each once.
    title : str
        What is drawn, for those who do not see it.
    uid : str
        What the ids in the drawing begin with, so that several can stand on one page.
    dimensions : bool
        Whether overall height, width and depth are written on it.
    figure : bool
        Whether a person of 1.75 m stands beside.
    units : str
        "metric" or "us".

    Returns
    -------
    str
        One ``svg`` element, 400 user units wide; nothing in it refers to anything outside.

    Raises
    ------
    EstimatorError
        If there is nothing to draw, a view is unknown, given twice or missing from a
        section, or the uid cannot begin an id.
    """
    _check(placed, views, uid)
    seen = {name: view_of(placed, name) for name in views}
    elevations = [seen[name] for name in views if name != "plan"]
    plan = seen.get("plan")
    labels = [size_text(view.across_m, units) if dimensions else view.name for view in elevations]
    layout = lay_out(elevations, plan, labels, gutter=dimensions, figure=figure)
    named = dimensions or len(views) > 1

    drawn = _row(elevations, layout, uid, units if dimensions else None, named=named)
    y = layout.bottom if elevations else MARGIN
    if elevations:
        y += (sizing.DEPTH if dimensions else 0.0) + (_ROW if named else 0.0)
    if plan is not None:
        y += MARGIN if elevations else 0.0
        drawn += _plan(plan, layout, y, uid, units if dimensions else None, beside=elevations, named=named)
        y += plan.up_m * layout.scale
        y += (sizing.DEPTH if dimensions and "front" not in views else 0.0) + (_ROW if named else 0.0)
    for text in notes(seen.values(), units if dimensions else None):
        y += _ROW
        drawn += label(MARGIN, y - 4, text, anchor="start", fill=SOFT)
    hatched = [stage for stage in HATCHED_STAGES if any(section.hatch == stage for section in placed)]
    key, taken = legend(uid, hatched, left=MARGIN, top=y + MARGIN)
    height = y + MARGIN + taken + (MARGIN if hatched else 0.0)
    return element(
        "svg",
        element("title", escaped(title), id=f"{uid}-title"),
        element("desc", escaped(description(placed, seen, units, figure=figure)), id=f"{uid}-desc"),
        element("defs", patterns(uid, hatched)) if hatched else "",
        drawn,
        key,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {WIDTH:g} {height:.0f}",
        width=WIDTH,
        height=round(height),
        role="img",
        aria_labelledby=f"{uid}-title {uid}-desc",
        font_family=FONT,
        font_size=TEXT,
    )


def _check(placed: Sequence[Placed], views: Sequence[ViewName], uid: str) -> None:
    if not placed:
        raise Missing("section", "add one before drawing.")
    if not views:
        raise Missing("view", f"name one of {', '.join(_VIEWS)}.")
    for name in views:
        if name not in _VIEWS:
            raise UnknownChoice("view", name, _VIEWS)
    if len(set(views)) != len(views):
        raise EstimatorError("view", views, f"views are {', '.join(views)}; give each once.")
    if not _UID.fullmatch(uid):
        raise EstimatorError("uid", uid, f"uid is {uid!r}; it must be a letter, then letters, digits, - or _.")


def _row(elevations: Sequence[View], layout: Layout, uid: str, units: Units | None, *, named: bool) -> str:
    """Front and side on the floor, with the person beside."""
    if not elevations:
        return ""
    scale, floor = layout.scale, layout.floor
    drawn = element(
        "path", d=line(layout.left - 6, floor, layout.right + 6, floor), fill="none", stroke=SOFT, stroke_width=THIN
    )
    below = layout.bottom + (sizing.DEPTH if units else 0.0) + _ROW - 4
    if layout.person is not None:
        drawn += person(layout.person, floor, scale)
        if named:
            height = "1.75 m" if units != "us" else size_text(HEIGHT_M, "us")
            drawn += label(layout.person, below, height, fill=SOFT)
    for view, left in zip(elevations, layout.lefts, strict=True):
        drawn += _view(view, left, floor, scale, uid)
        right = left + view.across_m * scale
        if units:
            drawn += _width(view, left, floor, scale, layout.bottom, units)
        if named:
            drawn += label((left + right) / 2, below, view.name, fill=SOFT)
    if units:
        drawn += _height(elevations[0], layout.lefts[0], floor, scale, units)
    return drawn


def _plan(
    plan: View, layout: Layout, top: float, uid: str, units: Units | None, *, beside: Sequence[View], named: bool
) -> str:
    """The plan under the front, with the sizes that no elevation gives."""
    scale = layout.scale
    names = [view.name for view in beside]
    left = layout.lefts[names.index("front")] if "front" in names else layout.middle - plan.across_m * scale / 2
    right, bottom = left + plan.across_m * scale, top + plan.up_m * scale
    origin = bottom + plan.bottom_m * scale
    drawn = _view(plan, left, origin, scale, uid)
    if units and "side" not in names:
        drawn += _height(plan, left, origin, scale, units)
    if units and "front" not in names:
        drawn += _width(plan, left, origin, scale, bottom, units)
        bottom += sizing.DEPTH
    if named:
        drawn += label((left + right) / 2, bottom + _ROW - 4, "plan", fill=SOFT)
    return drawn


def _width(view: View, left: float, floor: float, scale: float, below: float, units: Units) -> str:
    ends = zip((view.left_m, view.right_m), view.lowest_at_ends(), strict=True)
    from_left, to_right = (sizing.End(left + (x - view.left_m) * scale, floor - y * scale) for x, y in ends)
    return sizing.across(from_left, to_right, below, size_text(view.across_m, units))


def _height(view: View, left: float, floor: float, scale: float, units: Units) -> str:
    ends = zip((view.bottom_m, view.top_m), view.leftmost_at_ends(), strict=True)
    bottom, top = (sizing.End(floor - y * scale, left + (x - view.left_m) * scale) for y, x in ends)
    return sizing.upright(bottom, top, left, size_text(view.up_m, units))


def _view(view: View, left: float, floor: float, scale: float, uid: str) -> str:
    def on_sheet(rings: Rings) -> Rings:
        return tuple(tuple((left + (x - view.left_m) * scale, floor - y * scale) for x, y in ring) for ring in rings)

    return "".join(
        _section(section, on_sheet(section.silhouette), on_sheet(section.edges), uid) for section in view.sections
    )


def _section(section: Seen, silhouette: Rings, edges: Rings, uid: str) -> str:
    stage = section.placed.hatch
    name = f"{section.placed.name}: {stage}" if stage else section.placed.name
    dashes = {"stroke_dasharray": _DASHES} if section.note else {}
    drawn = element(
        "path",
        d=path(silhouette, closed=True),
        fill=f"url(#{pattern_id(uid, stage)})" if stage else PAPER,
        fill_rule="evenodd",
        stroke_width=THICK,
        **dashes,
    )
    if edges:
        drawn += element("path", d=path(edges, closed=False), fill="none", stroke_width=THIN)
    return element("g", element("title", escaped(name)), drawn, stroke=INK, stroke_linejoin="round")
