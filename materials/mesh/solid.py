"""A mesh as a solid that can be cut, joined and projected, and back again with its faces' origins."""

from typing import TYPE_CHECKING

import numpy as np

from materials.estimator.errors import EstimatorError
from materials.mesh.triangles import BoolArray, IntArray, Mesh

if TYPE_CHECKING:
    from manifold3d import Manifold


class NotASolid(EstimatorError):
    """A mesh that encloses no space that can be cut.

    Parameters
    ----------
    message : str
        What stands in the way and what to do.
    """

    def __init__(self, message: str) -> None:
        super().__init__("model", None, message)


def solid_of(mesh: Mesh) -> tuple["Manifold", int]:
    """Return the mesh as a solid, and the number that its skin keeps through every cut.

    Parameters
    ----------
    mesh : Mesh
        Closed, in metres.

    Returns
    -------
    tuple of (Manifold, int)
        The solid and its skin's number [dimensionless].

    Raises
    ------
    NotASolid
        Where the faces do not close, or more than two meet at an edge in a way that leaves inside and outside open.
    """
    from manifold3d import Error, Manifold, Mesh64

    first = Manifold.reserve_ids(2)
    joint = np.zeros(len(mesh.faces), dtype=bool) if mesh.joint is None else mesh.joint
    order = np.argsort(joint, kind="stable")
    skin = int((~joint).sum())
    runs = [0, 3 * skin] if skin == len(joint) else [0, 3 * skin, 3 * len(joint)]
    solid = Manifold(
        Mesh64(
            np.ascontiguousarray(mesh.vertices),
            np.ascontiguousarray(mesh.faces[order], dtype=np.uint64),
            run_index=np.array(runs, dtype=np.uint64),
            run_original_id=np.arange(first, first + len(runs) - 1, dtype=np.uint32),
        )
    )
    if solid.status() != Error.NoError or solid.is_empty():
        raise NotASolid(
            "The model's faces do not enclose a space that can be cut; "
            "join its parts into one closed surface in the modelling program and export it again."
        )
    return solid, int(first)


def mesh_of(solid: "Manifold", skin: int) -> tuple[Mesh, BoolArray]:
    """Return a solid as a mesh, and which of its faces are neither skin nor an earlier cut's, shape (m,).

    Parameters
    ----------
    solid : Manifold
    skin : int
        The skin's number, as ``solid_of`` gave it [dimensionless].

    Returns
    -------
    tuple of (Mesh, ndarray of bool)
    """
    raw = solid.to_mesh64()
    faces: IntArray = np.asarray(raw.tri_verts).astype(np.int32)
    joint: BoolArray = np.ones(len(faces), dtype=bool)
    fresh: BoolArray = np.ones(len(faces), dtype=bool)
    ends = np.asarray(raw.run_index, dtype=np.int64) // 3
    for run, origin in enumerate(raw.run_original_id):
        joint[ends[run] : ends[run + 1]] = int(origin) != skin
        fresh[ends[run] : ends[run + 1]] = int(origin) not in (skin, skin + 1)
    vertices = np.array(np.asarray(raw.vert_properties)[:, :3])
    # Where runs meet, the library may give a point once for each; they are one again here.
    if len(raw.merge_from_vert):
        place = np.arange(len(vertices), dtype=np.int32)
        place[np.asarray(raw.merge_from_vert, dtype=np.int64)] = np.asarray(raw.merge_to_vert, dtype=np.int32)
        faces = place[faces]
    return Mesh(vertices, faces, joint), fresh
