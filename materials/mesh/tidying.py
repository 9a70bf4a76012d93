"""What is wrong with a model is found, put right where nothing is guessed, and reported."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from materials.estimator.errors import EstimatorError
from materials.mesh.balance import HashArray, face_keys, is_balanced
from materials.mesh.orienting import disagreeing, looking_inwards, turn
from materials.mesh.topology import Edges, bodies_of, crowded_edges_of, edges_of, open_loops
from materials.mesh.triangles import FloatArray, IntArray, Mesh, add_up, extremes
from materials.mesh.welding import weld_near

# Points on open edges nearer than this share of the model's diagonal are one point: 0.03 mm on a 3 m piece.
NEAR = 1e-5
# A model with more open edges than this is loose faces, not a surface with holes.
MOST_OPEN_EDGES = 100_000
_SHORT_RING = 500


class Shapeless(EstimatorError):
    """A model whose faces all vanish when points that almost coincide are joined."""

    def __init__(self) -> None:
        super().__init__(
            "model", None, "The model's faces are all too thin to have an area; export the model as a surface mesh."
        )


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
    bodies : int
        Separate bodies, hollows among them [dimensionless].
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
    bodies: int
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

    Raises
    ------
    Shapeless
        Where nothing with an area is left.

    References
    ----------
    The tolerance is common practice, no source.
    """
    mesh, dropped = _without_flat_faces(mesh)
    mesh, duplicates = _without_duplicates(mesh)
    joined = 0
    if not is_balanced(mesh.vertices, mesh.faces):
        open_points = _points_on_open_edges(edges_of(mesh.faces))
        low, high = extremes(mesh.vertices)
        mesh, joined = weld_near(mesh, open_points, NEAR * float(np.linalg.norm(high - low)))
        if joined:
            mesh, vanished = _without_flat_faces(mesh)
            mesh, more = _without_duplicates(mesh)
            dropped, duplicates = dropped + vanished, duplicates + more
    mesh, twins = _without_membranes(mesh)
    closed = is_balanced(mesh.vertices, mesh.faces)
    turned = np.zeros(len(mesh.faces), dtype=bool)
    if not closed:
        turned = disagreeing(mesh.faces, edges_of(mesh.faces))
        mesh = turn(mesh, turned)
        closed = is_balanced(mesh.vertices, mesh.faces)
    if not add_up(mesh.vertices, mesh.faces).area > 0:
        raise Shapeless()
    hollows = 0
    bodies, body = bodies_of(mesh)
    if closed:
        inwards, hollows = looking_inwards(mesh, bodies, body)
        if inwards.any():
            mesh, turned = turn(mesh, inwards), turned ^ inwards
    edges = None if closed else edges_of(mesh.faces)
    findings = Findings(
        triangles=len(mesh.faces),
        points_joined=joined,
        faces_dropped=dropped,
        duplicates_dropped=duplicates + twins,
        faces_turned=int(turned.sum()),
        bodies=bodies,
        hollows=hollows,
        open_edges=0 if edges is None else int(np.abs(edges.surplus).sum()),
        crowded_edges=crowded_edges_of(mesh.faces),
        holes=() if edges is None else holes_of(mesh, edges),
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
    if np.abs(edges.surplus).sum() > MOST_OPEN_EDGES:
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
    if not _may_repeat(face_keys(mesh.vertices, mesh.faces)[0]):
        return mesh, 0
    start = mesh.faces.argmin(axis=1)[:, None]
    return _without_repeats(mesh, np.take_along_axis(mesh.faces, (start + np.arange(3)) % 3, axis=1))


def _without_membranes(mesh: Mesh) -> tuple[Mesh, int]:
    """Leave out one of two faces that lie back to back, unless the mesh encloses a space: then both may bound it."""
    volume = abs(add_up(mesh.vertices, mesh.faces).volume)
    if volume > least_volume(mesh) and is_balanced(mesh.vertices, mesh.faces):
        return mesh, 0
    if not _may_repeat(np.minimum(*face_keys(mesh.vertices, mesh.faces))):
        return mesh, 0
    return _without_repeats(mesh, np.sort(mesh.faces, axis=1))


def _may_repeat(keys: HashArray) -> bool:
    ordered = np.sort(keys)
    return bool((ordered[1:] == ordered[:-1]).any())


def _without_repeats(mesh: Mesh, rows: IntArray) -> tuple[Mesh, int]:
    """Keep the first of all faces whose rows are the same."""
    kept = np.zeros(len(rows), dtype=bool)
    kept[np.unique(rows, axis=0, return_index=True)[1]] = True
    return Mesh(mesh.vertices, mesh.faces[kept]), int((~kept).sum())


def _points_on_open_edges(edges: Edges) -> NDArray[np.int64]:
    odd = edges.starts[edges.counts % 2 == 1]
    if not len(odd):
        return np.empty(0, dtype=np.int64)
    return np.unique(np.concatenate([edges.low[odd], edges.high[odd]]))


def _counted(count: int, noun: str, rest: str) -> str:
    if not count:
        return ""
    if count == 1:
        return f"1 {noun} {rest}."
    for one, many in (("was ", "were "), ("has ", "have "), ("joins ", "join ")):
        rest = rest.replace(one, many)
    return f"{count:,} {noun}s {rest}."
