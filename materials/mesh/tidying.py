"""What is wrong with a model is found, put right where nothing is guessed, and reported."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from materials.mesh.orienting import disagreeing, looking_inwards, turn
from materials.mesh.topology import Edges, edges_of, open_loops
from materials.mesh.triangles import BoolArray, FloatArray, Mesh, add_up, extremes
from materials.mesh.welding import weld_near

# Points on open edges nearer than this share of the model's diagonal are one point: 0.03 mm on a 3 m piece.
NEAR = 1e-5
# A model with more open edges than this is loose faces, not a surface with holes.
_MOST_OPEN_EDGES = 100_000
_SHORT_RING = 500


@dataclass(frozen=True, slots=True)
class Hole:
    """One opening in the surface.

    Attributes
    ----------
    edge_m : float
        Length round it [m].
    width_m : float
        Greatest distance across it [m].
    """

    edge_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Findings:
    """What was found in a model and what was done about it.

    Attributes
    ----------
    triangles : int
        Triangles left after tidying [dimensionless].
    points_joined : int
        Points on open edges joined to one nearer than 1e-5 of the diagonal [dimensionless].
    faces_dropped : int
        Faces with two equal corners, left out [dimensionless].
    duplicates_dropped : int
        Faces that lay exactly on another, left out [dimensionless].
    faces_turned : int
        Faces that looked inwards, turned round [dimensionless].
    hollows : int
        Closed spaces within the model, taken off its volume [dimensionless].
    open_edges : int
        Sides of faces without a neighbour, or with one that cannot be made to agree [dimensionless].
    crowded_edges : int
        Edges at which more than two faces meet [dimensionless].
    holes : tuple of Hole
        The openings, widest first; empty where the model is closed or is loose faces.
    """

    triangles: int
    points_joined: int
    faces_dropped: int
    duplicates_dropped: int
    faces_turned: int
    hollows: int
    open_edges: int
    crowded_edges: int
    holes: tuple[Hole, ...]

    @property
    def closed(self) -> bool:
        """Whether every edge is met, so that the model has a volume."""
        return self.open_edges == 0

    @property
    def notes(self) -> tuple[str, ...]:
        """What was put right and what stands in the way, one sentence each."""
        said = [
            _counted(self.points_joined, "point", "lay almost on another and was joined to it"),
            _counted(self.faces_dropped, "face", "had no width and was left out"),
            _counted(self.duplicates_dropped, "face", "lay exactly on another and was left out"),
            _counted(self.faces_turned, "face", "looked inwards and was turned round"),
            _counted(self.hollows, "hollow", "was found within the model and is not in its volume"),
            _counted(self.crowded_edges, "edge", "joins more than two faces"),
        ]
        return tuple(sentence for sentence in said if sentence)


@dataclass(frozen=True, slots=True, eq=False)
class Tidied:
    """A mesh with what was found in it."""

    mesh: Mesh
    findings: Findings


def tidy(mesh: Mesh) -> Tidied:
    """Drop duplicate faces, join almost equal points on open edges, make all faces look outwards, and report it.

    Parameters
    ----------
    mesh : Mesh
        In metres, its exactly equal points already shared.

    Returns
    -------
    Tidied

    References
    ----------
    The tolerance is common practice, no source.
    """
    mesh, dropped = _without_flat_faces(mesh)
    mesh, duplicates = _without_duplicates(mesh)
    edges = edges_of(mesh.faces)
    joined = 0
    if (edges.counts % 2).any():
        low, high = extremes(mesh.vertices)
        mesh, joined = weld_near(mesh, _points_on_open_edges(edges), NEAR * float(np.linalg.norm(high - low)))
        if joined:
            mesh, vanished = _without_flat_faces(mesh)
            mesh, more = _without_duplicates(mesh)
            dropped, duplicates = dropped + vanished, duplicates + more
            edges = edges_of(mesh.faces)
    mesh, edges, twins = _without_membranes(mesh, edges)
    turned = disagreeing(mesh.faces, edges)
    if turned.any():
        mesh = turn(mesh, turned)
        edges = edges_of(mesh.faces)
    hollows = 0
    if not edges.surplus.any() and len(mesh.faces):
        inwards, hollows = looking_inwards(mesh)
        mesh, turned = turn(mesh, inwards), turned ^ inwards
    findings = Findings(
        triangles=len(mesh.faces),
        points_joined=joined,
        faces_dropped=dropped,
        duplicates_dropped=duplicates + twins,
        faces_turned=int(turned.sum()),
        hollows=hollows,
        open_edges=int(np.abs(edges.surplus).sum()),
        crowded_edges=int((edges.counts > 2).sum()),
        holes=holes_of(mesh, edges),
    )
    return Tidied(mesh, findings)


def least_volume(mesh: Mesh) -> float:
    """Return the volume below which a mesh encloses nothing but rounding [m^3].

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    float
        Volume [m^3].
    """
    low, high = extremes(mesh.vertices)
    return 1e-12 * float(np.linalg.norm(high - low)) ** 3


def holes_of(mesh: Mesh, edges: Edges) -> tuple[Hole, ...]:
    """Return the mesh's openings, widest first.

    Parameters
    ----------
    mesh : Mesh
    edges : Edges

    Returns
    -------
    tuple of Hole
        Empty where the open edges are too many to follow.
    """
    if np.abs(edges.surplus).sum() > _MOST_OPEN_EDGES:
        return ()
    holes = [hole_of(mesh.vertices[loop]) for loop in open_loops(edges)]
    return tuple(sorted(holes, key=lambda hole: -hole.width_m))


def hole_of(ring: FloatArray) -> Hole:
    """Return the size of one opening from the points round it, shape (n, 3) [m].

    Parameters
    ----------
    ring : ndarray of float64, shape (n, 3)
        Points in their order [m].

    Returns
    -------
    Hole
    """
    around = float(np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1).sum())
    if len(ring) <= _SHORT_RING:
        width = np.linalg.norm(ring[:, None] - ring[None], axis=2).max()
    else:
        # Along many directions instead of between all pairs, of which a long ring has too many.
        rays = np.random.default_rng(1).normal(size=(256, 3))
        width = np.ptp(ring @ (rays / np.linalg.norm(rays, axis=1)[:, None]).T, axis=0).max()
    return Hole(around, float(width))


def _without_flat_faces(mesh: Mesh) -> tuple[Mesh, int]:
    a, b, c = mesh.faces.T
    good = (a != b) & (b != c) & (c != a)
    return Mesh(mesh.vertices, mesh.faces[good]), int((~good).sum())


def _without_duplicates(mesh: Mesh) -> tuple[Mesh, int]:
    """Leave out each face that repeats another of the same corners in the same turn."""
    start = mesh.faces.argmin(axis=1)[:, None]
    first = np.take_along_axis(mesh.faces, (start + np.arange(3)) % 3, axis=1)
    repeated = _repeats(first)
    return Mesh(mesh.vertices, mesh.faces[~repeated]), int(repeated.sum())


def _without_membranes(mesh: Mesh, edges: Edges) -> tuple[Mesh, Edges, int]:
    """Leave out one of two faces that lie back to back, unless the mesh encloses a space: then both may bound it."""
    if not edges.surplus.any() and abs(add_up(mesh.vertices, mesh.faces).volume) > least_volume(mesh):
        return mesh, edges, 0
    repeated = _repeats(np.sort(mesh.faces, axis=1))
    if not repeated.any():
        return mesh, edges, 0
    single = Mesh(mesh.vertices, mesh.faces[~repeated])
    return single, edges_of(single.faces), int(repeated.sum())


def _repeats(rows: NDArray[np.int32]) -> BoolArray:
    """Tell which rows equal an earlier one, shape (m,)."""
    with np.errstate(over="ignore"):
        # Tells most meshes apart at the price of one plain sort.
        keys = (rows.astype(np.uint64) * np.array([0x9E3779B97F4A7C15, 0xD6E8FEB86659FD93, 1], np.uint64)).sum(axis=1)
    ordered = np.sort(keys)
    repeated = np.zeros(len(rows), dtype=bool)
    if (ordered[1:] == ordered[:-1]).any():
        repeated[:] = True
        repeated[np.unique(rows, axis=0, return_index=True)[1]] = False
    return repeated


def _points_on_open_edges(edges: Edges) -> NDArray[np.int64]:
    odd = edges.starts[edges.counts % 2 == 1]
    return np.unique(np.concatenate([edges.low[odd], edges.high[odd]]))


def _counted(count: int, noun: str, rest: str) -> str:
    if not count:
        return ""
    if count == 1:
        return f"1 {noun} {rest}."
    for one, many in (("was ", "were "), ("has ", "have "), ("joins ", "join ")):
        rest = rest.replace(one, many)
    return f"{count:,} {noun}s {rest}."
