"""A standing person, for size: a quiet silhouette of a few curves."""

from itertools import pairwise

from materials.drawing.svg import FAINT, RULE, THIN, element, number
from materials.estimator.outline import Point

HEIGHT_M = 1.75
WIDTH_M = 0.56

# Right half of the body from neck to crotch, in shares of the height: the corners that a
# quadratic spline is drawn within.
_HALF: tuple[Point, ...] = (
    (0.026, 0.900),
    (0.028, 0.850),
    (0.070, 0.832),
    (0.122, 0.822),
    (0.140, 0.770),
    (0.142, 0.690),
    (0.152, 0.620),
    (0.160, 0.540),
    (0.164, 0.480),
    (0.170, 0.430),
    (0.154, 0.392),
    (0.140, 0.430),
    (0.140, 0.490),
    (0.122, 0.600),
    (0.110, 0.670),
    (0.104, 0.760),
    (0.094, 0.700),
    (0.076, 0.630),
    (0.096, 0.540),
    (0.104, 0.460),
    (0.082, 0.300),
    (0.086, 0.220),
    (0.050, 0.060),
    (0.092, 0.004),
    (0.060, -0.004),
    (0.024, 0.004),
    (0.026, 0.060),
    (0.022, 0.200),
    (0.026, 0.290),
    (0.016, 0.400),
    (0.000, 0.490),
)
_HEAD = (0.932, 0.045, 0.068)


def person(x: float, floor: float, scale: float) -> str:
    """The person standing on the floor.

    Parameters
    ----------
    x, floor : float
        Middle across, and the floor, in user units.
    scale : float
        User units to the metre.

    Returns
    -------
    str
        Markup.
    """
    size = HEIGHT_M * scale
    corners = [*_HALF, *((-across, up) for across, up in reversed(_HALF[:-1]))]
    placed = [(x + across * size, floor - up * size) for across, up in corners]
    middles = [((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise(placed)]
    curve = f"M{number(placed[0][0])} {number(placed[0][1])}L{number(middles[0][0])} {number(middles[0][1])}"
    for (cx, cy), (mx, my) in zip(placed[1:-1], middles[1:], strict=True):
        curve += f"Q{number(cx)} {number(cy)} {number(mx)} {number(my)}"
    curve += f"L{number(placed[-1][0])} {number(placed[-1][1])}Z"
    middle, across, up = _HEAD
    return element(
        "g",
        element("path", d=curve),
        element("ellipse", cx=x, cy=floor - middle * size, rx=across * size, ry=up * size),
        fill=FAINT,
        stroke=RULE,
        stroke_width=THIN,
        stroke_linejoin="round",
    )
