"""A crate from its long side and from its end, with the piece inside it."""

from collections.abc import Mapping, Sequence

from jobs.delivery.crate import OPENINGS, WAYS, Crate, bays
from jobs.delivery.crate_parts import Build
from materials.drawing import dimensions as sizing
from materials.drawing.sizes import Units, size_text, spoken_size
from materials.drawing.svg import FAINT, INK, PAPER, SOFT, THICK, THIN, element, label, path, titled
from materials.estimator.outline import Outline, Point, ViewName

# Few words and large ones, so that they are read on a phone.
_LETTERING = 16.0
_WIDE, _TALLEST = 460.0, 300.0
_GUTTER, _BETWEEN, _MARGIN = 44.0, 26.0, 8.0
_BELOW = sizing.DEPTH + 22.0
_DASHES = "5 3"

Rings = tuple[tuple[Point, ...], ...]

# Which way each axis of the piece points in its crate: the view that shows a pair, and whether it is turned.
_VIEWS: Mapping[tuple[str, str], tuple[ViewName, bool]] = {
    ("x", "z"): ("front", False),
    ("z", "x"): ("front", True),
    ("y", "z"): ("side", False),
    ("z", "y"): ("side", True),
    ("x", "y"): ("plan", False),
    ("y", "x"): ("plan", True),
}
_UP = {"standing": "z", "back": "y", "side": "x"}


def crate_svg(crate: Crate, build: Build, outlines: Mapping[ViewName, Outline], units: Units) -> tuple[str, str]:
    """The drawing, and what it shows in words."""
    outside = crate.outside
    room = _WIDE - _GUTTER - _BETWEEN - _MARGIN
    scale = min(room / (outside.length_m + outside.width_m), _TALLEST / outside.height_m)
    along, across, up = _axes(crate, outlines)
    views = (
        (_GUTTER, outside.length_m, _long_side(crate, build), _silhouette(outlines, along, up), "long side"),
        (
            _GUTTER + outside.length_m * scale + _BETWEEN,
            *(outside.width_m, _end(crate, build), _silhouette(outlines, across, up), "end"),
        ),
    )
    floor = _MARGIN + outside.height_m * scale
    drawn = ""
    for left, wide_m, parts, rings, name in views:
        drawn += _elevation(crate, build, parts, rings, left, floor, scale, wide_m)
        ends = sizing.End(left, floor), sizing.End(left + wide_m * scale, floor)
        drawn += sizing.across(*ends, floor, size_text(wide_m, units))
        drawn += label(left + wide_m * scale / 2, floor + _BELOW - 5, name, fill=SOFT)
    drawn += sizing.upright(
        sizing.End(floor, _GUTTER), sizing.End(_MARGIN, _GUTTER), _GUTTER, size_text(outside.height_m, units)
    )
    sides = [spoken_size(side, units) for side in (outside.length_m, outside.width_m, outside.height_m)]
    words = (
        f"Crate from its long side and its end: {sides[0]} long, {sides[1]} wide and {sides[2]} high outside, "
        f"the piece dashed, {WAYS[crate.way]}; it opens at {OPENINGS[crate.opening]}."
    )
    return titled(words, drawn, width=_WIDE, height=floor + _BELOW, size=_LETTERING), words


def _axes(crate: Crate, outlines: Mapping[ViewName, Outline]) -> tuple[str, str, str]:
    """The piece's own axes along, across and up in the crate."""
    up = _UP[crate.way]
    lying = [axis for axis in "xyz" if axis != up]
    extents = {axis: _extent(outlines, axis) for axis in lying}
    along, across = sorted(lying, key=lambda axis: -extents[axis])
    return along, across, up


def _extent(outlines: Mapping[ViewName, Outline], axis: str) -> float:
    view, place = {"x": ("front", 0), "y": ("side", 0), "z": ("front", 1)}[axis]
    values = [point[place] for ring in outlines[view].silhouette for point in ring]  # type: ignore[index]
    return max(values) - min(values)


def _silhouette(outlines: Mapping[ViewName, Outline], across: str, up: str) -> Rings:
    view, turned = _VIEWS[across, up]
    rings = outlines[view].silhouette
    return tuple(tuple((y, x) for x, y in ring) for ring in rings) if turned else rings


# A rectangle of a view: its left and lower corner and its sides, from the crate's own lower left corner [m].
_Bar = tuple[float, float, float, float]


def _frame(crate: Crate, build: Build, left_m: float, wide_m: float, uprights: Sequence[float]) -> list[_Bar]:
    """Rails at foot and head, and uprights by their middles."""
    batten_m = build.batten.value
    low_m = build.skid.value + build.plywood.value
    high_m = low_m + crate.inside.height_m
    rails = [(left_m, low_m, wide_m, batten_m), (left_m, high_m - batten_m, wide_m, batten_m)]
    standing = [
        (middle - batten_m / 2, low_m + batten_m, batten_m, crate.inside.height_m - 2 * batten_m) for middle in uprights
    ]
    return rails + standing


def _long_side(crate: Crate, build: Build) -> list[_Bar]:
    batten_m, wall_m = build.batten.value, build.plywood.value + build.batten.value
    inside_m, count = crate.inside.length_m, bays(crate.inside.length_m, build.batten_spacing.value)
    first, last = wall_m + batten_m / 2, wall_m + inside_m - batten_m / 2
    bars = _frame(crate, build, wall_m, inside_m, _spread(first, last, count))
    low_m = build.skid.value + build.plywood.value
    edges = [(left, low_m, batten_m, crate.inside.height_m) for left in (0.0, crate.outside.length_m - batten_m)]
    skid_m = build.skid.value
    skids = _spread(skid_m / 2, crate.outside.length_m - skid_m / 2, crate.skids.count - 1)
    return [*bars, *edges, *((middle - skid_m / 2, 0.0, skid_m, skid_m) for middle in skids)]


def _end(crate: Crate, build: Build) -> list[_Bar]:
    wide_m = crate.outside.width_m
    middles = _spread(0.0, wide_m, bays(wide_m, build.batten_spacing.value))[1:-1]
    return [*_frame(crate, build, 0.0, wide_m, middles), (0.0, 0.0, wide_m, build.skid.value)]


def _spread(first: float, last: float, count: int) -> list[float]:
    """Places at the ends of so many equal bays."""
    return [first + (last - first) * number / count for number in range(count + 1)] if count else [first]


def _elevation(
    crate: Crate,
    build: Build,
    bars: Sequence[_Bar],
    rings: Rings,
    left: float,
    floor: float,
    scale: float,
    wide_m: float,
) -> str:
    plywood_m, batten_m, skid_m = build.plywood.value, build.batten.value, build.skid.value
    low_m = skid_m + plywood_m
    high_m = low_m + crate.inside.height_m

    def box(bar: _Bar, fill: str, stroke: float) -> str:
        x_m, y_m, across_m, up_m = bar
        return element(
            "rect",
            x=left + x_m * scale,
            y=floor - (y_m + up_m) * scale,
            width=across_m * scale,
            height=up_m * scale,
            fill=fill,
            stroke=INK,
            stroke_width=stroke,
        )

    panel = box((0.0, low_m, wide_m, crate.inside.height_m), PAPER, THICK)
    flat = [
        (0.0, skid_m, wide_m, plywood_m),
        (0.0, high_m, wide_m, plywood_m),
        (0.0, high_m + plywood_m, wide_m, batten_m),
    ]
    drawn = panel + "".join(box(bar, FAINT, THIN) for bar in [*bars, *flat])
    xs, ys = ([point[place] for ring in rings for point in ring] for place in (0, 1))
    middle_m, foot_m = (min(xs) + max(xs)) / 2, min(ys)
    up_m = low_m + build.clearance.value
    placed = [
        [(left + (wide_m / 2 + x - middle_m) * scale, floor - (up_m + y - foot_m) * scale) for x, y in ring]
        for ring in rings
    ]
    return drawn + element(
        "path", d=path(placed, closed=True), fill="none", stroke=INK, stroke_width=THICK, stroke_dasharray=_DASHES
    )
