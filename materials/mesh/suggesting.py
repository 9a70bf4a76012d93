"""Where to cut, so that every section fits what carries, mills or lifts it."""

from dataclasses import dataclass
from itertools import product

import numpy as np

from materials.estimator.errors import Missing, OutOfRange
from materials.mesh.cutting import MOST_PLANES, BadCut, parts_of
from materials.mesh.pieces import SkinPiece
from materials.mesh.planes import Plane, plane_at
from materials.mesh.preview import preview_of
from materials.mesh.stations import extents_at
from materials.mesh.surface import spread_points
from materials.mesh.triangles import FloatArray, Mesh, add_up, extremes

_LAYERS = 240
_MOST_ACROSS = 8
_TRIES = 16
_TIGHTER = 0.96
_HALVINGS = 10
_SAMPLES = 100_000
_LARGEST_M = 100.0


@dataclass(frozen=True, slots=True)
class Fit:
    """What every section must fit: a vehicle's opening, a machine, a block of foam, two people.

    Attributes
    ----------
    box_m : tuple of float or None
        Sides of a box that each section must go into, any way round [m]; None where size does not matter.
    mass_kg : float or None
        Most that a section may weigh [kg]; None where mass does not matter.
    skin_kg_m2 : float or None
        Mass of the skin that the mass is worked from [kg/m^2].
    """

    box_m: tuple[float, float, float] | None = None
    mass_kg: float | None = None
    skin_kg_m2: float | None = None

    def __post_init__(self) -> None:
        if self.box_m is None and self.mass_kg is None:
            raise Missing("what the sections must fit", "give the sides of a box, a mass, or both.")
        for side in self.box_m or ():
            if not 0 < side <= _LARGEST_M:
                raise OutOfRange("side of the box", side, "m", 0, _LARGEST_M)
        if self.mass_kg is not None:
            if not 0 < self.mass_kg < float("inf"):
                raise OutOfRange("greatest mass of a section", self.mass_kg, "kg", 0)
            if self.skin_kg_m2 is None:
                raise Missing("lay-up mass", "a section's mass is its skin times the lay-up's mass in kg/m².")
        if self.skin_kg_m2 is not None and not 0 < self.skin_kg_m2 < float("inf"):
            raise OutOfRange("lay-up mass", self.skin_kg_m2, "kg/m²", 0)

    def holds(self, sides: tuple[float, float, float], area_m2: float) -> bool:
        """Tell whether a section of these sides and this skin fits.

        Parameters
        ----------
        sides : tuple of float
            Extents [m].
        area_m2 : float
            Skin [m^2].

        Returns
        -------
        bool
        """
        if self.box_m is not None:
            # A hair of room, so that a section as large as the box goes into it.
            pairs = zip(sorted(sides), sorted(self.box_m), strict=True)
            if any(side > room * (1 + 1e-9) for side, room in pairs):
                return False
        return self.mass_kg is None or area_m2 * (self.skin_kg_m2 or 0) <= self.mass_kg


def suggest_planes(mesh: Mesh, fit: Fit) -> tuple[Plane, ...]:
    """Return level and upright planes, as few sections as the search finds, that make every section fit.

    Level planes follow the shape; upright ones divide the extents evenly. What
    is given has been tried on the model itself.

    Parameters
    ----------
    mesh : Mesh
        Standing, in metres.
    fit : Fit

    Returns
    -------
    tuple of Plane
        Empty where the model fits whole.

    Raises
    ------
    BadCut
        Where no more than 40 planes make it fit.

    References
    ----------
    Common practice, no source.
    """
    skin = Mesh(mesh.vertices, mesh.skin.faces)
    profile = _profile_of(preview_of(skin))
    plans = []
    for across, along in product(range(1, _MOST_ACROSS + 1), repeat=2):
        heights = profile.stacked(fit, across, along, 1.0, float("inf"))
        if heights is not None:
            plans.append((across * along * (len(heights) + 1), across, along))
    best: tuple[int, tuple[Plane, ...]] | None = None
    for least, across, along in sorted(plans):
        if best is not None and least >= best[0]:
            break
        planes = _tried(skin, profile, fit, across, along)
        if planes is not None:
            count = across * along * (len(planes) - across - along + 3)
            best = min(best or (count, planes), (count, planes), key=lambda pair: pair[0])
    if best is None:
        raise BadCut(fit, f"No cut by up to {MOST_PLANES} planes makes every section fit; allow larger sections.")
    return best[1]


def _tried(skin: Mesh, profile: "_Profile", fit: Fit, across: int, along: int) -> tuple[Plane, ...] | None:
    """Return planes that do make every section fit, by asking for ever smaller sections until they do."""
    for attempt in range(_TRIES):
        heights = profile.heights(fit, across, along, _TIGHTER**attempt)
        if heights is None or len(heights) + across + along - 2 > MOST_PLANES:
            return None
        planes = (
            *(plane_at("z", height) for height in heights),
            *(plane_at("x", place) for place in profile.places(0, across)),
            *(plane_at("y", place) for place in profile.places(1, along)),
        )
        if _all_fit(skin, planes, fit):
            return planes
    return None


def _all_fit(skin: Mesh, planes: tuple[Plane, ...], fit: Fit) -> bool:
    for _, piece in parts_of(SkinPiece(skin.vertices[skin.faces], {}), planes):
        part, _ = piece.finish(planes)
        low, high = extremes(part.vertices)
        length, width, height = (float(side) for side in high - low)
        if not fit.holds((length, width, height), add_up(part.vertices, part.faces).area):
            return False
    return True


@dataclass(frozen=True, slots=True, eq=False)
class _Profile:
    """The model in level layers: where each begins, how far it reaches, how much skin it has."""

    edges: FloatArray
    low: FloatArray
    high: FloatArray
    areas: FloatArray

    def places(self, axis: int, count: int) -> list[float]:
        """Return where ``count`` even parts of the extents along an axis meet [m]."""
        start, end = float(self.low[:, axis].min()), float(self.high[:, axis].max())
        return [start + (end - start) * part / count for part in range(1, count)]

    def heights(self, fit: Fit, across: int, along: int, share: float) -> list[float] | None:
        """Return the fewest level cuts, evenly spaced as far as they may be; None where even one layer is too much."""
        best = self.stacked(fit, across, along, share, float("inf"))
        if best is None:
            return None
        least, most = 0.0, float(self.edges[-1] - self.edges[0])
        fewest = len(best)
        for _ in range(_HALVINGS):
            middle = (least + most) / 2
            heights = self.stacked(fit, across, along, share, middle)
            if heights is not None and len(heights) <= fewest:
                best, most = heights, middle
            else:
                least = middle
        return best

    def stacked(self, fit: Fit, across: int, along: int, share: float, tallest: float) -> list[float] | None:
        """Stack layers into a section until one more would not fit or be too tall, then begin the next."""
        most_x, most_y = ((self.high.max(axis=0) - self.low.min(axis=0)) / (across, along)).tolist()

        def fits(box: list[float], height: float, area: float) -> bool:
            wide, deep = min(box[2] - box[0], most_x), min(box[3] - box[1], most_y)
            return height <= tallest and fit.holds((wide / share, deep / share, height / share), area / share)

        edges = self.edges.tolist()
        boxes = np.column_stack([self.low, self.high]).tolist()
        areas = (self.areas / (across * along)).tolist()
        heights: list[float] = []
        foot, box, area = edges[0], boxes[0], 0.0
        for layer, (layer_box, layer_area) in enumerate(zip(boxes, areas, strict=True)):
            top = edges[layer + 1]
            grown = [*map(min, box[:2], layer_box[:2]), *map(max, box[2:], layer_box[2:])]
            if fits(grown, top - foot, area + layer_area):
                box, area = grown, area + layer_area
                continue
            if not fits(layer_box, top - edges[layer], layer_area):
                return None
            heights.append(edges[layer])
            foot, box, area = edges[layer], layer_box, layer_area
        return heights


def _profile_of(mesh: Mesh) -> _Profile:
    low, high = extremes(mesh.vertices)
    foot = np.array([0.0, 0.0, low[2]])
    height = float(high[2] - low[2])
    if height <= 0:
        raise BadCut(None, "The model lies flat, so there is nothing to cut; say which way is up.")
    least, most = extents_at(Mesh(mesh.vertices - foot, mesh.faces), height, _LAYERS + 1)
    points, _ = spread_points(mesh, _SAMPLES)
    points = np.concatenate([points, mesh.vertices[mesh.faces].reshape(-1, 3)])
    layer = np.clip(((points[:, 2] - low[2]) / height * _LAYERS).astype(np.int64), 0, _LAYERS - 1)
    inner_low, inner_high = np.minimum(least[:-1], least[1:]), np.maximum(most[:-1], most[1:])
    np.minimum.at(inner_low, layer, points[:, :2])
    np.maximum.at(inner_high, layer, points[:, :2])
    total = add_up(mesh.vertices, mesh.faces).area
    areas = np.asarray(np.bincount(layer[:_SAMPLES], minlength=_LAYERS) * (total / _SAMPLES), dtype=np.float64)
    edges = np.linspace(float(low[2]), float(high[2]), _LAYERS + 1)
    return _Profile(edges, inner_low, inner_high, areas)
