"""A section cut from a model, by value: its form and outlines as numbers, so that no file is read again."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from materials.estimator.errors import EstimatorError, Missing, WrongKind
from materials.estimator.form import Form, Station
from materials.estimator.outline import Outline, Point, ViewName
from materials.specfile.fields import Fields, number

MESH = "mesh"
VIEWS: tuple[ViewName, ...] = ("front", "side", "plan")
_FORM_FIELDS = (
    *("area_m2", "volume_m3", "extents_m", "stations", "centre_of_mass_m", "seam_m", "largest_flat_m2", "origin"),
    "shell_centre_m",
)
_MOST_POINTS = 100_000


@dataclass(frozen=True, slots=True)
class Modelled:
    """A section measured and drawn on its model.

    Attributes
    ----------
    measured : Form
        Its figures.
    outlines : mapping of str to Outline
        Its views by name; empty where it was not drawn.
    """

    measured: Form
    outlines: Mapping[ViewName, Outline]

    def form(self) -> Form:
        """Figures as the model gave them.

        Returns
        -------
        Form
        """
        return self.measured

    def outline(self, view: ViewName) -> Outline:
        """One view, or the rectangle of the extents where it was not drawn.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view in self.outlines:
            return self.outlines[view]
        form = self.measured
        across = form.width_m if view == "side" else form.length_m
        low, high = (-form.width_m / 2, form.width_m / 2) if view == "plan" else (0.0, form.height_m)
        ring = ((-across / 2, low), (across / 2, low), (across / 2, high), (-across / 2, high))
        return Outline(view, (ring,), note="extents only")


def form_data(form: Form) -> dict[str, Any]:
    """Return a form as JSON carries it.

    Parameters
    ----------
    form : Form

    Returns
    -------
    dict
        What ``read_modelled`` reads under ``form``.
    """
    return {
        "area_m2": form.area_m2,
        "volume_m3": form.volume_m3,
        "extents_m": [form.length_m, form.width_m, form.height_m],
        "stations": [[station.z_m, station.length_m, station.width_m] for station in form.stations],
        "centre_of_mass_m": None if form.centre_of_mass_m is None else list(form.centre_of_mass_m),
        "seam_m": form.seam_m,
        "largest_flat_m2": form.largest_flat_m2,
        "origin": form.origin,
        "shell_centre_m": None if form.shell_centre_m is None else list(form.shell_centre_m),
    }


def outlines_data(outlines: Mapping[ViewName, Outline]) -> dict[str, Any]:
    """Return outlines as JSON carries them, to a tenth of a millimetre.

    Parameters
    ----------
    outlines : mapping of str to Outline

    Returns
    -------
    dict
        What ``read_modelled`` reads under ``outlines``.
    """

    def paths(rings: tuple[tuple[Point, ...], ...]) -> list[list[list[float]]]:
        return [[[round(x, 4), round(y, 4)] for x, y in ring] for ring in rings]

    return {
        view: {"silhouette": paths(drawn.silhouette), "edges": paths(drawn.edges), "note": drawn.note}
        for view, drawn in outlines.items()
    }


def read_modelled(fields: Fields) -> Modelled:
    """Return the section that stands under ``form`` and ``outlines``.

    Parameters
    ----------
    fields : Fields
        Of a section or of its shape alone.

    Returns
    -------
    Modelled

    Raises
    ------
    EstimatorError
        For a figure that is left out, is not a number, or cannot be one of a form.
    """
    if not fields.has("form"):
        raise Missing(fields.place("form"), "give the figures of the model, or its file in a specification file.")
    return Modelled(_form(fields.inner("form", _FORM_FIELDS)), read_outlines(fields))


def read_outlines(fields: Fields) -> dict[ViewName, Outline]:
    """Return the views that stand under ``outlines``.

    Parameters
    ----------
    fields : Fields

    Returns
    -------
    dict of str to Outline

    Raises
    ------
    EstimatorError
        For a view that is not known or a path that is none.
    """
    given = fields.inner("outlines", VIEWS)
    outlines: dict[ViewName, Outline] = {}
    for view in VIEWS:
        if given.has(view):
            drawn = given.inner(view, ("silhouette", "edges", "note"))
            silhouette = _paths(drawn.listing("silhouette", "list its rings."), drawn.place("silhouette"))
            edges = _paths(drawn.listing("edges", "list its lines."), drawn.place("edges"))
            note = drawn.raw("note", "") if drawn.has("note") else ""
            outlines[view] = Outline(view, silhouette, edges, str(note)[:80])
    return outlines


def _form(given: Fields) -> Form:
    length, width, height = _numbers(
        given.listing("extents_m", "list length, width and height."), 3, given, "extents_m"
    )
    stations = tuple(
        Station(*_numbers(row, 3, given, "stations")) for row in given.listing("stations", "list the stations.")
    )
    if not stations or any(above.z_m < below.z_m for below, above in pairwise(stations)):
        raise EstimatorError(given.where, None, f"{given.place('stations')} must be listed from the foot up.")
    return Form(
        area_m2=given.number("area_m2"),
        volume_m3=_maybe(given, "volume_m3"),
        length_m=length,
        width_m=width,
        height_m=height,
        stations=stations,
        centre_of_mass_m=_point(given, "centre_of_mass_m"),
        origin=given.text("origin", "model"),
        seam_m=_maybe(given, "seam_m"),
        largest_flat_m2=given.number("largest_flat_m2", 0.0),
        shell_centre_m=_point(given, "shell_centre_m"),
    )


def _point(given: Fields, key: str) -> tuple[float, float, float] | None:
    found = given.raw(key, "give it, or null.") if given.has(key) else None
    if found is None:
        return None
    x, y, z = _numbers(found, 3, given, key)
    return x, y, z


def _maybe(given: Fields, key: str) -> float | None:
    return given.number(key) if given.has(key) and given.raw(key, "") is not None else None


def _numbers(value: object, count: int, given: Fields, key: str) -> tuple[float, ...]:
    if not isinstance(value, list | tuple) or len(value) != count:
        raise WrongKind(given.place(key), value, f"{count} numbers")
    numbers = tuple(number(each, given.place(key)) for each in value)
    if not all(math.isfinite(each) for each in numbers):
        raise WrongKind(given.place(key), value, "finite numbers")
    return numbers


def _paths(rings: list[object], place: str) -> tuple[tuple[Point, ...], ...]:
    read, count = [], 0
    for ring in rings:
        if not isinstance(ring, list | tuple):
            raise WrongKind(place, ring, "a list of points")
        count += len(ring)
        if count > _MOST_POINTS:
            raise EstimatorError(place, count, f"{place} has more than {_MOST_POINTS} points; thin it.")
        points = []
        for point in ring:
            if not isinstance(point, list | tuple) or len(point) != 2:
                raise WrongKind(place, point, "two numbers, such as [1.2, 0.4]")
            x, y = (number(each, place) for each in point)
            if not (math.isfinite(x) and math.isfinite(y)):
                raise WrongKind(place, point, "two finite numbers")
            points.append((x, y))
        read.append(tuple(points))
    return tuple(read)
