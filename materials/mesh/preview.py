"""A model with fewer triangles, for what is looked at rather than measured."""

import numpy as np

from materials.mesh.triangles import Mesh

MOST_FACES = 20_000


def preview_of(mesh: Mesh, most_faces: int = MOST_FACES) -> Mesh:
    """Return the mesh with at most about ``most_faces`` triangles; one that has no more comes back as it is.

    Parameters
    ----------
    mesh : Mesh
    most_faces : int
        Triangles to leave [dimensionless].

    Returns
    -------
    Mesh
        Its joints are no longer told from its skin.

    References
    ----------
    Quadric error metric, as the library has it; 20 000 is common practice, no source.
    """
    if len(mesh.faces) <= most_faces:
        return Mesh(mesh.vertices, mesh.faces)
    import fast_simplification

    middle = mesh.vertices.mean(axis=0)
    points, faces = fast_simplification.simplify(
        (mesh.vertices - middle).astype(np.float32), mesh.faces.astype(np.int32), 1 - most_faces / len(mesh.faces)
    )
    return Mesh(points.astype(np.float64) + middle, np.ascontiguousarray(faces, dtype=np.int32))
