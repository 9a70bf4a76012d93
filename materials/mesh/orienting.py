"""Which way faces look: made to agree across every edge, and outwards body by body."""

import numpy as np
from numpy.typing import NDArray

from materials.mesh.topology import Edges, neighbours
from materials.mesh.triangles import BoolArray, FloatArray, IntArray, Mesh, add_up

Int64Array = NDArray[np.int64]

_MOST_HOLLOWS = 1000


def disagreeing(faces: IntArray, edges: Edges) -> BoolArray:
    """Tell which faces must be turned so that neighbours agree, the fewest of each patch, shape (m,).

    Each face stands twice, as it is and turned; a pair that agrees links like
    with like, one that does not links like with turned. Of the two halves of
    each patch the one with more faces as they are is kept. A surface with one
    side only cannot be made to agree, and is left as it is.

    Parameters
    ----------
    faces : ndarray of int32, shape (m, 3)
    edges : Edges

    Returns
    -------
    ndarray of bool, shape (m,)
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    count = len(faces)
    one, other, agree = neighbours(edges)
    if agree.all():
        return np.zeros(count, dtype=bool)
    tails = np.concatenate([one, one + count])
    heads = np.concatenate([np.where(agree, other, other + count), np.where(agree, other + count, other)])
    links = coo_array((np.ones(len(tails), np.int8), (tails, heads)), shape=(2 * count, 2 * count))
    parts, label = connected_components(links, directed=False)
    as_is, turned = label[:count], label[count:]
    votes = np.bincount(as_is, minlength=parts)
    wrong: BoolArray = votes[turned] > votes[as_is]
    # Equal halves: keep the one that came first, the same for all faces of the patch.
    wrong |= (votes[turned] == votes[as_is]) & (turned < as_is)
    return wrong


def turn(mesh: Mesh, which: BoolArray) -> Mesh:
    """Return the mesh with the chosen faces looking the other way.

    Parameters
    ----------
    mesh : Mesh
    which : ndarray of bool, shape (m,)

    Returns
    -------
    Mesh
    """
    faces = mesh.faces.copy()
    faces[which] = faces[which][:, ::-1]
    return Mesh(mesh.vertices, faces, mesh.joint)


def looking_inwards(mesh: Mesh, count: int, body: IntArray) -> tuple[BoolArray, int]:
    """Tell which faces of a closed mesh look inwards, shape (m,), and how many bodies are hollows.

    A model whose whole volume is negative is inside out. After that a body of
    negative volume within another is its hollow and stays; any other is turned.
    More than 1 000 such bodies are taken for faults, not hollows.

    Parameters
    ----------
    mesh : Mesh
        Closed, its faces in agreement.
    count : int
        Number of bodies [dimensionless].
    body : ndarray of int32, shape (m,)
        The body each face belongs to.

    Returns
    -------
    tuple of (ndarray of bool, int)
        Which faces, and the number of hollows [dimensionless].
    """
    if count == 1:
        inside_out = add_up(mesh.vertices, mesh.faces).volume < 0
        return np.full(len(mesh.faces), inside_out), 0
    volumes = _volumes(mesh, body, count)
    wrong = np.zeros(count, dtype=bool)
    if volumes.sum() < 0:
        wrong[:] = True
        volumes = -volumes
    hollows = 0
    inwards = np.flatnonzero(volumes < 0)
    for index in inwards:
        if len(inwards) <= _MOST_HOLLOWS and _lies_within_another(mesh, body, int(index), volumes):
            hollows += 1
        else:
            wrong[index] = not wrong[index]
    return wrong[body], hollows


def _volumes(mesh: Mesh, body: IntArray, count: int) -> FloatArray:
    a, b, c = (mesh.vertices[mesh.faces[:, corner]] - mesh.vertices[0] for corner in range(3))
    sixfold = np.einsum("ij,ij->i", a, np.cross(b, c))
    return np.asarray(np.bincount(body, weights=sixfold, minlength=count) / 6)


def _lies_within_another(mesh: Mesh, body: IntArray, index: int, volumes: FloatArray) -> bool:
    point = mesh.vertices[mesh.faces[body == index][0, 0]]
    outer = (body != index) & (volumes[body] > 0)
    return _crossings_above(mesh, outer, point) % 2 == 1


def _crossings_above(mesh: Mesh, which: BoolArray, point: FloatArray) -> int:
    """Count the chosen faces that a line from the point meets; slightly slanted, to miss edges."""
    slant = np.array([0.0137, 0.0071])
    corners = mesh.vertices[mesh.faces[which]] - point
    flat = corners[:, :, :2] - corners[:, :, 2:] * slant
    a, b, c = flat[:, 0], flat[:, 1], flat[:, 2]
    ab, bc, ca = _cross(a, b), _cross(b, c), _cross(c, a)
    inside = ((ab > 0) & (bc > 0) & (ca > 0)) | ((ab < 0) & (bc < 0) & (ca < 0))
    weights = np.stack([bc, ca, ab], axis=1)[inside]
    heights = (weights * corners[inside, :, 2]).sum(axis=1) / weights.sum(axis=1)
    return int((heights > 0).sum())


def _cross(p: FloatArray, q: FloatArray) -> FloatArray:
    return np.asarray(p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0])
