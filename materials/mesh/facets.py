"""Large flat facets, which are as floppy as they are flat: listed for the stiffness check."""

from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import OutOfRange
from materials.mesh.preview import preview_of
from materials.mesh.topology import Int64Array, edges_of, neighbours
from materials.mesh.triangles import BoolArray, FloatArray, Mesh, areas_and_normals

LEAST_M2 = 0.5
# A scanned facet's own triangles wobble more than the facet does.
_SAME_DIRECTION = np.cos(np.radians(5.0))
_FLAT_M = 0.002
_ROUGHLY_FLAT_M = 0.01
_MOST_FACES = 100_000
_SEEDS_A_FACET = 6
_MOST_SEEDS = 2000

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Facet:
    """One flat part of the skin.

    Attributes
    ----------
    area_m2 : float
        Its area [m^2].
    length_m, width_m : float
        Sides of the least rectangle round it, the longer first [m].
    centre_m : tuple of float
        Its centre [m].
    normal : tuple of float
        Where it faces, of length 1 [dimensionless].
    """

    area_m2: float
    length_m: float
    width_m: float
    centre_m: Point
    normal: Point


def flat_facets(mesh: Mesh, least_m2: float = LEAST_M2) -> tuple[Facet, ...]:
    """Return the skin's flat facets of at least ``least_m2``, largest first.

    Flat is what departs from one plane by no more than 2 mm.

    Parameters
    ----------
    mesh : Mesh
        Tidied, in metres; faces that a cut made are passed over.
    least_m2 : float
        Smallest area listed [m^2].

    Returns
    -------
    tuple of Facet

    Raises
    ------
    OutOfRange
        If ``least_m2`` is not a finite number above 0.

    References
    ----------
    Common practice, no source.
    """
    if not (np.isfinite(least_m2) and least_m2 > 0):
        raise OutOfRange("least area of a facet", least_m2, "m²", 0)
    mesh = preview_of(mesh.skin, _MOST_FACES)
    areas, normals = areas_and_normals(mesh)
    middles = mesh.vertices[mesh.faces].mean(axis=1)
    one, other, _ = neighbours(edges_of(mesh.faces))
    facets: list[Facet] = []
    free = areas > 0
    for seed in _seeds(areas, least_m2):
        if not free[seed]:
            continue
        within = free & _lies_in(mesh, normals, middles[seed], normals[seed], _ROUGHLY_FLAT_M)
        if areas[within].sum() < least_m2:
            continue
        patch = _joined_to(seed, within, one, other)
        point, normal = _plane_of(areas[patch], middles[patch], normals[patch])
        within = free & _lies_in(mesh, normals, point, normal, _FLAT_M)
        if not within[seed] or areas[within].sum() < least_m2:
            continue
        patch = _joined_to(seed, within, one, other)
        if areas[patch].sum() >= least_m2:
            facets.append(_facet(mesh, patch, areas, normal))
            free &= ~patch
    return tuple(sorted(facets, key=lambda facet: -facet.area_m2))


def _seeds(areas: FloatArray, least_m2: float) -> list[int]:
    """Return faces spread evenly by area, close enough that none of the facets looked for lies between them."""
    ends = np.cumsum(areas)
    count = min(int(np.ceil(_SEEDS_A_FACET * ends[-1] / least_m2)), _MOST_SEEDS)
    spread = np.searchsorted(ends, (np.arange(count) + 0.5) / count * ends[-1])
    largest = np.argsort(-areas)[:count]
    return list(dict.fromkeys([*largest.tolist(), *spread.tolist()]))


def _plane_of(areas: FloatArray, middles: FloatArray, normals: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return a point of the plane that faces lie in on the whole, and its normal."""
    normal = (normals * areas[:, None]).sum(axis=0)
    return (middles * areas[:, None]).sum(axis=0) / areas.sum(), normal / np.linalg.norm(normal)


def _lies_in(mesh: Mesh, normals: FloatArray, point: FloatArray, normal: FloatArray, most_m: float) -> BoolArray:
    near = np.abs((mesh.vertices - point) @ normal) <= most_m
    within: BoolArray = near[mesh.faces].all(axis=1) & (normals @ normal >= _SAME_DIRECTION)
    return within


def _joined_to(seed: int, within: BoolArray, one: Int64Array, other: Int64Array) -> BoolArray:
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    inside = within[one] & within[other]
    links = coo_array(
        (np.ones(int(inside.sum()), np.int8), (one[inside], other[inside])), shape=(len(within), len(within))
    )
    _, label = connected_components(links, directed=False)
    patch: BoolArray = within & (label == label[seed])
    return patch


def _facet(mesh: Mesh, patch: BoolArray, areas: FloatArray, normal: FloatArray) -> Facet:
    from shapely import MultiPoint

    corners = mesh.vertices[mesh.faces[patch]]
    centre = (corners.mean(axis=1) * areas[patch, None]).sum(axis=0) / areas[patch].sum()
    across = np.cross(normal, np.eye(3)[np.abs(normal).argmin()])
    across /= np.linalg.norm(across)
    flat = (corners.reshape(-1, 3) - centre) @ np.stack([across, np.cross(normal, across)], axis=1)
    ring = np.array(MultiPoint(flat).minimum_rotated_rectangle.exterior.coords)
    sides = np.linalg.norm(np.diff(ring[:3], axis=0), axis=1)
    return Facet(float(areas[patch].sum()), float(sides.max()), float(sides.min()), _point(centre), _point(normal))


def _point(values: FloatArray) -> Point:
    x, y, z = (float(value) for value in values)
    return x, y, z
