"""Small holes closed on request: a fan from the edge to its middle, and a report of each."""

from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import OutOfRange
from materials.mesh.solid import NotASolid
from materials.mesh.tidying import MOST_OPEN_EDGES, Hole, Tidied, hole_of, tidy
from materials.mesh.topology import edges_of, open_loops
from materials.mesh.triangles import Mesh, add_up

_WIDEST_M = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class Closed:
    """A mesh with its small holes closed.

    Attributes
    ----------
    tidied : Tidied
        The mesh and what is to be said of it now.
    holes : tuple of Hole
        What was closed, widest first.
    area_m2 : float
        Area that the closing added [m^2].
    """

    tidied: Tidied
    holes: tuple[Hole, ...]
    area_m2: float

    @property
    def note(self) -> str:
        """One sentence for the report."""
        if not self.holes:
            return "No hole was narrow enough to be closed."
        count = "1 hole was" if len(self.holes) == 1 else f"{len(self.holes):,} holes were"
        return (
            f"{count} closed, the widest {self.holes[0].width_m * 1000:.0f} mm across; "
            f"this added {self.area_m2:.4f} m² of skin."
        )


def close_holes(mesh: Mesh, widest_m: float) -> Closed:
    """Close every opening no wider than ``widest_m``.

    Parameters
    ----------
    mesh : Mesh
        Tidied, in metres.
    widest_m : float
        Greatest distance across a hole that may be closed [m].

    Returns
    -------
    Closed

    Raises
    ------
    OutOfRange
        If ``widest_m`` is not above 0 and at most 5 m.
    NotASolid
        Where the model is loose faces.

    References
    ----------
    Common practice, no source.
    """
    if not 0 < widest_m <= _WIDEST_M:
        raise OutOfRange("widest hole to close", widest_m, "m", 0, _WIDEST_M)
    edges = edges_of(mesh.faces)
    if np.abs(edges.surplus).sum() > MOST_OPEN_EDGES:
        raise NotASolid(
            "The model is loose faces rather than one surface, so it has no holes to close; "
            "join them in the modelling program and export it again."
        )
    vertices, faces, closed = [mesh.vertices], [mesh.faces], []
    count = len(mesh.vertices)
    for loop in open_loops(edges):
        ring = mesh.vertices[loop]
        hole = hole_of(ring)
        if hole.width_m > widest_m:
            continue
        closed.append(hole)
        if len(loop) == 3:
            faces.append(loop[None].astype(np.int32))
            continue
        vertices.append(ring.mean(axis=0)[None])
        fan = np.stack([loop, np.roll(loop, -1), np.full(len(loop), count)], axis=1)
        faces.append(fan.astype(np.int32))
        count += 1
    points = np.concatenate(vertices)
    added = np.concatenate([np.empty((0, 3), np.int32), *faces[1:]])
    area = add_up(points, added).area if len(added) else 0.0
    holes = tuple(sorted(closed, key=lambda hole: -hole.width_m))
    return Closed(tidy(Mesh(points, np.concatenate(faces))), holes, area)
