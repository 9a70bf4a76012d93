"""How the wind turns a piece over: where it pushes, and the edge of the base that it turns on."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.delivery.shadow import Rings
from materials.drawing.svg import FAINT, INK, SOFT, THICK, THIN, element, label, line, path, titled

# Few words and large ones, so that they are read on a phone.
_LETTERING = 16.0
_WIDE, _TALLEST = 460.0, 240.0
_MARGIN, _BETWEEN, _ARROW, _HEAD, _BELOW = 10.0, 30.0, 56.0, 7.0, 44.0


@dataclass(frozen=True, slots=True)
class Tipping:
    """One view: the face that the wind is on, the silhouettes seen across the wind, the base, where it pushes.

    Attributes
    ----------
    name, force : str
        "wind on the front", and the force in words.
    silhouettes : sequence of rings
        Of each section, in its place [m].
    base_m : tuple of (float, float)
        Windward and leeward edge of the base [m].
    middle_m : float
        Height of the middle of the shadow [m].
    """

    name: str
    force: str
    silhouettes: Sequence[Rings]
    base_m: tuple[float, float]
    middle_m: float


def wind_svg(views: Sequence[Tipping]) -> tuple[str, str]:
    """The drawing, and what it shows in words."""
    spans = [_span(view) for view in views]
    top_m = max(point[1] for view in views for rings in view.silhouettes for ring in rings for point in ring)
    room = _WIDE - 2 * _MARGIN - _BETWEEN * (len(views) - 1) - _ARROW * len(views)
    scale = min(room / sum(high - low for low, high in spans), _TALLEST / top_m)
    spare = room - sum(high - low for low, high in spans) * scale
    floor, left, drawn = _MARGIN + top_m * scale, _MARGIN, ""
    for view, (low, high) in zip(views, spans, strict=True):
        left += spare / len(views) / 2
        drawn += _view(view, left + _ARROW - low * scale, left, floor, scale, (low, high))
        left += spare / len(views) / 2 + _ARROW + (high - low) * scale + _BETWEEN
    said = "; ".join(f"{view.name}, {view.force} at {view.middle_m:.2f} m above the foot" for view in views)
    words = f"Outlines across the wind with its push, and the edge of the base that it turns on: {said}."
    return titled(words, drawn, width=_WIDE, height=floor + _BELOW, size=_LETTERING), words


def _span(view: Tipping) -> tuple[float, float]:
    across = [point[0] for rings in view.silhouettes for ring in rings for point in ring]
    return min(*across, *view.base_m), max(*across, *view.base_m)


def _view(view: Tipping, zero: float, left: float, floor: float, scale: float, span: tuple[float, float]) -> str:
    drawn = ""
    for rings in view.silhouettes:
        placed = [[(zero + x * scale, floor - z * scale) for x, z in ring] for ring in rings]
        drawn += element(
            "path", d=path(placed, closed=True), fill=FAINT, fill_rule="evenodd", stroke=INK, stroke_width=THIN
        )
    windward, leeward = (zero + edge * scale for edge in view.base_m)
    drawn += element("path", d=line(windward, floor, leeward, floor), stroke=INK, stroke_width=4, fill="none")
    pivot = [(leeward, floor + 2), (leeward - 7, floor + 14), (leeward + 7, floor + 14)]
    drawn += element("path", d=path([pivot], closed=True), fill=INK)
    height, tip = floor - view.middle_m * scale, left + _ARROW - 4
    head = [(tip - _HEAD, height - 4), (tip, height), (tip - _HEAD, height + 4)]
    arrow = line(left, height, tip, height) + path([head], closed=False)
    drawn += element("path", d=arrow, stroke=INK, stroke_width=THICK * 1.5, fill="none")
    drawn += label(left, height - 7, view.force, anchor="start")
    middle = zero + (span[0] + span[1]) / 2 * scale
    return drawn + label(middle - _ARROW / 4, floor + 32, view.name, fill=SOFT)
