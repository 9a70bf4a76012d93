"""Outline views of a model and of its sections: what is seen, as lines.

Views are taken from a model of at most 20 000 triangles. Each is drawn from the
middle of the extents and the foot, as ``materials.drawing`` wants it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import OutOfRange
from materials.estimator.outline import Outline, ViewName
from materials.mesh.cutting import Cut
from materials.mesh.depth import DepthMap
from materials.mesh.lines import FeatureLines
from materials.mesh.preview import preview_of
from materials.mesh.silhouette import silhouette_of
from materials.mesh.topology import Int64Array
from materials.mesh.triangles import BoolArray, FloatArray, Mesh, box_of

VIEWS: tuple[ViewName, ...] = ("front", "side", "plan")

# Right, up, towards the viewer.
_FRAMES = {
    "front": np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]]),
    "side": np.array([[0.0, 1, 0], [0, 0, 1], [1, 0, 0]]),
    "plan": np.array([[1.0, 0, 0], [0, 1, 0], [0, 0, 1]]),
}
_FINEST = 1 / 1500
_SHORTEST = 0.012
_GRID = 1e-5
_WIDEST_GAP_M = 20.0


@dataclass(frozen=True, slots=True)
class Exploded:
    """One section drawn apart from its neighbours.

    Attributes
    ----------
    name : str
    x_m, y_m, z_m : float
        Where the middle of its extents and its foot are drawn [m].
    outlines : mapping of str to Outline
        Its views, from that middle and foot.
    """

    name: str
    x_m: float
    y_m: float
    z_m: float
    outlines: Mapping[ViewName, Outline]


def outlines_of(mesh: Mesh, *, lines: FloatArray | None = None) -> dict[ViewName, Outline]:
    """Draw a model or a section from the front, from the side and from above.

    Parameters
    ----------
    mesh : Mesh
        In metres, z up.
    lines : ndarray of float64, shape (s, 2, 3), optional
        Further lines on its skin, as those of the seams [m].

    Returns
    -------
    dict of str to Outline
        "front", "side" and "plan", each from the middle of the extents and the foot.

    References
    ----------
    Common practice, no source.
    """
    low, high = box_of(mesh)
    foot = np.array([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]])
    seen = preview_of(mesh)
    seen = Mesh(seen.vertices - foot, seen.faces)
    features = FeatureLines(seen)
    further = np.empty((0, 2, 3)) if lines is None else lines - foot
    # The plan is drawn about the middle too, so nothing else is to be moved.
    return {view: _outline(seen, features, further, view) for view in VIEWS}


def outlines_of_cut(mesh: Mesh, parts: Cut) -> dict[ViewName, Outline]:
    """Draw the whole model with the seams of a cut upon it.

    Parameters
    ----------
    mesh : Mesh
        The model that was cut.
    parts : Cut

    Returns
    -------
    dict of str to Outline
    """
    lines = [seam.lines for seam in parts.seams]
    return outlines_of(mesh, lines=np.concatenate(lines) if lines else None)


def exploded(parts: Cut, gap_m: float) -> tuple[Exploded, ...]:
    """Draw the sections apart, each moved off every plane by half the gap.

    Parameters
    ----------
    parts : Cut
    gap_m : float
        Room between neighbours [m].

    Returns
    -------
    tuple of Exploded
        In the order of the sections, the lowest on the floor.

    Raises
    ------
    OutOfRange
        If the gap is not between 0 and 20 m.

    References
    ----------
    Common practice, no source.
    """
    if not 0 <= gap_m <= _WIDEST_GAP_M:
        raise OutOfRange("gap between sections", gap_m, "m", 0, _WIDEST_GAP_M)
    normals = np.array([plane.normal for plane in parts.planes])
    feet = []
    for section in parts.sections:
        low, high = np.array(section.low_m), np.array(section.high_m)
        moved = (np.where(section.above, 0.5, -0.5) * gap_m) @ normals
        feet.append(np.array([*((low + high) / 2)[:2], low[2]]) + moved)
    floor = min(float(foot[2]) for foot in feet)
    return tuple(
        Exploded(section.name, float(foot[0]), float(foot[1]), float(foot[2]) - floor, outlines_of(section.mesh))
        for section, foot in zip(parts.sections, feet, strict=True)
    )


def _outline(mesh: Mesh, features: FeatureLines, further: FloatArray, view: ViewName) -> Outline:
    frame = _FRAMES[view]
    points = mesh.vertices @ frame.T
    depths = DepthMap(points[mesh.faces])
    drawn = np.concatenate([features.fixed, features.turning_away(frame[2]), further]) @ frame.T
    return Outline(view, silhouette_of(points[:, :2], mesh.faces, depths), _visible(drawn, depths))


def _visible(lines: FloatArray, depths: DepthMap) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the seen parts of the lines within the outline, joined end to end and without needless points."""
    if not len(lines):
        return ()
    steps = depths.steps(np.linalg.norm(lines[:, 1, :2] - lines[:, 0, :2], axis=1))
    line = np.repeat(np.arange(len(lines)), steps + 1)
    starts = np.cumsum(steps + 1) - (steps + 1)
    share = (np.arange(len(line)) - starts[line]) / steps[line]
    points = lines[line, 0] + share[:, None] * (lines[line, 1] - lines[line, 0])
    clear, on_outline = depths.visible(points)
    # A stretch is drawn where both its ends are seen and not both lie on the outline, which is drawn already.
    stretch = np.flatnonzero(line[1:] == line[:-1])
    shown = clear[stretch] & clear[stretch + 1] & ~(on_outline[stretch] & on_outline[stretch + 1])
    return _joined(points[:, :2], stretch[shown], depths.size)


def _joined(points: FloatArray, stretch: Int64Array, size: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    import shapely

    grid = _GRID * size
    ends = np.round(np.stack([points[stretch], points[stretch + 1]], axis=1) / grid) * grid
    ends = ends[_distinct(ends)]
    if not len(ends):
        return ()
    merged = shapely.line_merge(shapely.multilinestrings(shapely.linestrings(ends)))
    paths = [path for path in shapely.get_parts(merged) if path.length >= _SHORTEST * size]
    plain = (shapely.simplify(path, _FINEST * size) for path in paths)
    return tuple(tuple((round(x, 5), round(y, 5)) for x, y in path.coords) for path in plain)


def _distinct(ends: FloatArray) -> BoolArray:
    """Tell which stretches have a length and were not there before, either way round."""
    swap = (ends[:, 0, 0] > ends[:, 1, 0]) | ((ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1]))
    same_way = np.where(swap[:, None, None], ends[:, ::-1], ends).reshape(len(ends), 4)
    kept = np.zeros(len(ends), dtype=bool)
    kept[np.unique(same_way, axis=0, return_index=True)[1]] = True
    return np.asarray(kept & (ends[:, 0] != ends[:, 1]).any(axis=1))
