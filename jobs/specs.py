"""A commission's sections in the one format that the take-off reads.

Pages and scripts thus go through the same reading, and what was typed is what
is stored.
"""

import re
from collections.abc import Callable, Iterable
from typing import Any

from jobs.models import Commission, Section, Shape
from materials.estimator.errors import EstimatorError
from materials.estimator.shapes import SHAPES
from materials.specfile import MESH
from materials.units import parse


def section_spec(section: Section) -> dict[str, Any]:
    """One section as a specification names it; what was left blank is left out."""
    lay_up, cast_lay_up, paint = section.mould_lay_up, section.cast_lay_up, section.paint_system
    return shape_spec(section) | _given(
        name=section.name,
        count=section.count,
        mirrored=section.mirrored,
        grade=section.grade,
        stand=section.stand,
        offset=section.offset.lstrip("-− "),
        pattern=_given(method=section.pattern_method, block=typed_sides(section.block), filler=section.filler),
        mould=_given(
            pieces=section.pieces,
            seam=section.seam,
            return_width=section.return_width,
            layup=lay_up.name if lay_up else "",
        ),
        cast=_given(
            pulls=section.pulls,
            layup=cast_lay_up.name if cast_lay_up else "",
            joining=_given(strip_width=section.strip_width, layers=section.strip_layers),
        ),
        finish=_given(system=paint.name if paint else ""),
        metal=section.metal,
        crate=section.crated,
    )


def shape_spec(section: Section) -> dict[str, Any]:
    """Only what says how big a section is."""
    if section.shape == Shape.MESH:
        return _modelled_spec(section)
    scaled = section.scale_from or section.scale_to
    return _given(
        shape=section.shape,
        dimensions=_dimensions(section),
        scale={"from": section.scale_from, "to": section.scale_to} if scaled else "",
    )


def _modelled_spec(section: Section) -> dict[str, Any]:
    """The copy of a model's figures that the section carries; its seams hold for the pieces it was parted into."""
    kept = section.dimensions
    form = kept["form"]
    if section.pieces not in (1, kept["pieces"]):
        form = {**form, "seam_m": None}
    return {"shape": MESH, "form": form, "outlines": kept["outlines"]}


def _given(**values: Any) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value not in ("", None, {}, [])}


def _dimensions(section: Section) -> dict[str, Any]:
    given = _given(**section.dimensions)
    for dimension in SHAPES[section.shape].dimensions:
        if dimension.name in given and dimension.kind in _READERS:
            given[dimension.name] = _READERS[dimension.kind](str(given[dimension.name]))
    return given


def typed_points(typed: str) -> list[list[float]]:
    """Points typed one to a line, "1.2 0.4", as pairs of numbers."""
    points = []
    for number, line in enumerate(typed.strip().splitlines(), start=1):
        words = line.replace(";", " ").split()
        try:
            x, y = (float(word) for word in words)
        except ValueError:
            raise EstimatorError(
                "points", line, f"Line {number} is {line.strip()[:40]!r}; write two numbers, such as 1.2 0.4."
            ) from None
        points.append([x, y])
    return points


def typed_sides(typed: str) -> list[str]:
    """Three sides typed in one line, "2.4 m x 1.2 m x 0.6 m"; nothing typed is none."""
    sides = [side.strip() for side in re.split(r"[x×]", typed) if side.strip()]
    if sides and len(sides) != 3:
        raise EstimatorError(
            "block", typed, f"{typed[:40]!r} has {len(sides)} sides; write three, such as 2.4 m x 1.2 m x 0.6 m."
        )
    return sides


def typed_number(typed: str) -> float:
    """A bare number, with a point or a comma."""
    if not _NUMBER.fullmatch(typed.strip()):
        raise EstimatorError("number", typed, f"{typed.strip()[:40]!r} is not a number; write one such as 0.8.")
    return float(typed.strip().replace(",", "."))


def signed_length_m(typed: str) -> float:
    """A length to the right, or with a minus to the left; nothing typed is 0 [m]."""
    bare = typed.strip()
    if not bare:
        return 0.0
    away = parse(bare.lstrip("-−").strip(), "length", "sideways from the middle", allow_zero=True)
    return -away if bare[0] in "-−" else away


def metal_place(section: Section) -> tuple[float, float | None]:
    """Where a section's steel balances: to the right of its middle, and above its foot, None where nobody said [m]."""
    typed = section.metal_height.strip()
    height_m = parse(typed, "length", "height of the steel", allow_zero=True) if typed else None
    return signed_length_m(section.metal_offset), height_m


_NUMBER = re.compile(r"[0-9]{1,6}(?:[.,][0-9]{1,6})?", re.ASCII)
_READERS: dict[str, Callable[[str], Any]] = {"polygon": typed_points, "number": typed_number}


def commission_spec(commission: Commission, sections: Iterable[Section]) -> dict[str, Any]:
    """The whole commission as a specification."""
    return {"name": commission.title, "sections": [section_spec(section) for section in sections]}
