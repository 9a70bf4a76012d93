"""Whether loose triangles close up, told without sorting them.

Each corner's coordinates are hashed, and each directed edge adds a number that
its opposite takes away again. The total is 0 where every edge is met by its
opposite, which is what a volume needs; an open or twisted model gives 0 by
accident about once in 10^19.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

_BLOCK = 8192
_ODD = np.uint64(0x9E3779B97F4A7C15)
_MIX = np.uint64(0xD6E8FEB86659FD93)

HashArray = NDArray[np.uint64]


def hashes_of(points: NDArray[Any]) -> HashArray:
    """Return a 64-bit hash of each point's exact coordinates, shape (n,); -0 and 0 are one.

    Parameters
    ----------
    points : ndarray of float32 or float64, shape (n, 3)

    Returns
    -------
    ndarray of uint64, shape (n,)
    """
    hashes = np.empty(len(points), dtype=np.uint64)
    with np.errstate(over="ignore"):
        for start in range(0, len(points), _BLOCK):
            hashes[start : start + _BLOCK] = _hashed(points[start : start + _BLOCK])
    return hashes


def is_balanced(points: NDArray[Any], faces: NDArray[np.int32] | None) -> bool:
    """Tell whether each directed edge of the triangles is met by its opposite.

    Parameters
    ----------
    points : ndarray of float32 or float64, shape (n, 3)
    faces : ndarray of int32, shape (m, 3), or None
        Rows of ``points``; None where each three points in turn are one triangle.

    Returns
    -------
    bool
    """
    total = np.uint64(0)
    with np.errstate(over="ignore"):
        for corners in _corner_hashes(points, faces):
            for forth, back in _edge_hashes(corners):
                total += (forth - back).sum(dtype=np.uint64)
    return bool(total == 0)


def face_keys(points: NDArray[Any], faces: NDArray[np.int32]) -> tuple[HashArray, HashArray]:
    """Return two keys of each face, both of shape (m,): equal for the same corners in the same turn.

    Parameters
    ----------
    points : ndarray of float32 or float64, shape (n, 3)
    faces : ndarray of int32, shape (m, 3)

    Returns
    -------
    tuple of (ndarray of uint64, ndarray of uint64)
        The second is the key that the face would have if it were turned round.
    """
    there: list[HashArray] = []
    back_again: list[HashArray] = []
    with np.errstate(over="ignore"):
        for corners in _corner_hashes(points, faces):
            edges = list(_edge_hashes(corners))
            there.append(edges[0][0] + edges[1][0] + edges[2][0])
            back_again.append(edges[0][1] + edges[1][1] + edges[2][1])
    empty = np.empty(0, dtype=np.uint64)
    return np.concatenate([empty, *there]), np.concatenate([empty, *back_again])


def _corner_hashes(points: NDArray[Any], faces: NDArray[np.int32] | None) -> Iterator[HashArray]:
    """Yield the hashes of the corners block by block, each of shape (3, k)."""
    shared = None if faces is None else hashes_of(points)
    for start in range(0, len(points) // 3 if faces is None else len(faces), _BLOCK):
        if shared is None or faces is None:
            hashes = _hashed(points[3 * start : 3 * (start + _BLOCK)])
        else:
            hashes = shared[faces[start : start + _BLOCK].reshape(-1)]
        yield np.ascontiguousarray(hashes.reshape(-1, 3).T)


def _edge_hashes(corners: HashArray) -> Iterator[tuple[HashArray, HashArray]]:
    """Yield, for each side of the faces in turn, what it adds and what its opposite would."""
    for here, there in ((0, 1), (1, 2), (2, 0)):
        forth = _mixed(corners[here] * _ODD + corners[there])
        back = _mixed(corners[there] * _ODD + corners[here])
        yield forth, back


def _hashed(points: NDArray[Any]) -> HashArray:
    bits = np.ascontiguousarray((points + points.dtype.type(0)).T)
    x, y, z = bits.view(np.uint32 if points.dtype.itemsize == 4 else np.uint64).astype(np.uint64)
    # Each is mixed before the next is added: the bits of round numbers end in many zeros, which a product would lose.
    return _mixed(_mixed(_mixed(x + _ODD) + y) + z)


def _mixed(values: HashArray) -> HashArray:
    values = values ^ (values >> np.uint64(32))
    values *= _MIX
    values ^= values >> np.uint64(29)
    values *= _MIX
    values ^= values >> np.uint64(32)
    return values
