"""The extents of a model at many heights, and the Form that the estimator reads."""

import numpy as np

from materials.estimator.form import Form, Station
from materials.mesh.facets import flat_facets
from materials.mesh.tidying import least_volume
from materials.mesh.topology import edges_of
from materials.mesh.triangles import FloatArray, Mesh, add_up, box_of, used_points

COUNT = 65
_BLOCK = 50_000


def form_of(mesh: Mesh, *, seam_m: float | None = None) -> Form:
    """Return area, volume, extents, stations and balance of a model or of one of its sections.

    Faces that a cut made are left out of the area, but close the volume. Flat
    facets of less than 0.5 m^2 do not count as flat.

    Parameters
    ----------
    mesh : Mesh
        Tidied, in metres, z up; it need not stand at the origin.
    seam_m : float, optional
        Seams within the section, where they were measured [m].

    Returns
    -------
    Form

    References
    ----------
    Area and volume are sums over the triangles; the number of stations is common practice, no source.
    """
    low, high = box_of(mesh)
    foot = np.array([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]])
    standing = Mesh(mesh.vertices - foot, mesh.faces)
    whole = add_up(standing.vertices, standing.faces)
    closed = not edges_of(mesh.faces).surplus.any() and whole.volume > least_volume(mesh)
    length, width, height = (float(side) for side in high - low)
    facets = flat_facets(mesh)
    skin = whole if mesh.joint is None else add_up(standing.vertices, mesh.skin.faces)
    return Form(
        area_m2=skin.area,
        volume_m3=whole.volume if closed else None,
        length_m=length,
        width_m=width,
        height_m=height,
        stations=stations_of(standing, height),
        centre_of_mass_m=whole.volume_centre if closed else None,
        origin="model, " + f"{len(mesh.skin.faces):,}".replace(",", " ") + " triangles",
        seam_m=seam_m,
        largest_flat_m2=facets[0].area_m2 if facets else 0.0,
        shell_centre_m=skin.area_centre,
    )


def stations_of(mesh: Mesh, height_m: float) -> tuple[Station, ...]:
    """Return the extents along x and y at 65 even heights.

    Parameters
    ----------
    mesh : Mesh
        Standing, foot at 0.
    height_m : float
        Height of the mesh [m].

    Returns
    -------
    tuple of Station

    References
    ----------
    Common practice, no source.
    """
    low, high = extents_at(mesh, height_m, COUNT)
    extents = np.where(high >= low, high - low, 0.0)
    heights = np.linspace(0, height_m, COUNT)
    return tuple(
        Station(float(z), float(length), float(width)) for z, (length, width) in zip(heights, extents, strict=True)
    )


def extents_at(mesh: Mesh, height_m: float, count: int) -> tuple[FloatArray, FloatArray]:
    """Return the least and greatest x and y at even heights, each of shape (count, 2).

    Parameters
    ----------
    mesh : Mesh
        Standing, foot at 0.
    height_m : float
        Height of the mesh [m].
    count : int
        Number of heights, the first at 0 and the last at ``height_m`` [dimensionless].

    Returns
    -------
    tuple of (ndarray, ndarray)
        Infinite, the wrong way round, where the mesh has nothing at a height [m].

    References
    ----------
    Common practice, no source.
    """
    low, high = np.full((count, 2), np.inf), np.full((count, 2), -np.inf)
    used = used_points(mesh)
    step = height_m / (count - 1)
    if step > 0:
        _take_in_points(used, step, low, high)
        _take_in_sides(mesh, step, low, high)
    else:
        low[:], high[:] = used[:, :2].min(axis=0), used[:, :2].max(axis=0)
    return low, high


def _take_in_points(points: FloatArray, step: float, low: FloatArray, high: FloatArray) -> None:
    """Points at a station's own height count there: the rim of a flat foot or top."""
    count = len(low)
    station = np.clip(np.rint(points[:, 2] / step), 0, count - 1).astype(np.int64)
    level = np.abs(points[:, 2] - station * step) <= 1e-9 * count * step
    np.minimum.at(low, station[level], points[level, :2])
    np.maximum.at(high, station[level], points[level, :2])


def _take_in_sides(mesh: Mesh, step: float, low: FloatArray, high: FloatArray) -> None:
    tail, head = mesh.faces.reshape(-1), mesh.faces[:, [1, 2, 0]].reshape(-1)
    # Level sides lie between no two heights; their ends are taken in as points.
    rising = mesh.vertices[tail, 2] < mesh.vertices[head, 2]
    falling = mesh.vertices[tail, 2] > mesh.vertices[head, 2]
    below, above = np.where(falling, head, tail), np.where(falling, tail, head)
    sloping = np.flatnonzero(rising | falling)
    # By the block: each side of a tall face crosses every height.
    for start in range(0, len(sloping), _BLOCK):
        rows = sloping[start : start + _BLOCK]
        _take_in(mesh.vertices[below[rows]], mesh.vertices[above[rows]], step, low, high)


def _take_in(below: FloatArray, above: FloatArray, step: float, low: FloatArray, high: FloatArray) -> None:
    first = np.ceil(below[:, 2] / step).astype(np.int64)
    last = np.minimum(np.floor(above[:, 2] / step).astype(np.int64), len(low) - 1)
    times = np.maximum(last - first + 1, 0)
    side = np.repeat(np.arange(len(times)), times)
    if not len(side):
        return
    station = first[side] + np.arange(len(side)) - np.repeat(np.cumsum(times) - times, times)
    share = (station * step - below[side, 2]) / (above[side, 2] - below[side, 2])
    spots = below[side, :2] + share[:, None] * (above[side, :2] - below[side, :2])
    np.minimum.at(low, station, spots)
    np.maximum.at(high, station, spots)
