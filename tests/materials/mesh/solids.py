"""Solids with known sizes, meshed: what the mesh tests measure, cut and draw."""

import numpy as np

from materials.mesh.triangles import Mesh


def grid_mesh(points: np.ndarray, *, loop_u: bool, loop_v: bool) -> Mesh:
    """Join a (u, v) grid of points by two triangles a cell; closed along u or v where asked."""
    nu, nv = points.shape[:2]
    rows = np.arange(nu * nv).reshape(nu, nv)
    if loop_u:
        rows = np.concatenate([rows, rows[:1]])
    if loop_v:
        rows = np.concatenate([rows, rows[:, :1]], axis=1)
    a, b, c, d = rows[:-1, :-1], rows[1:, :-1], rows[1:, 1:], rows[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    return Mesh(points.reshape(-1, 3).astype(float), faces.astype(np.int32))


def revolved(radii: np.ndarray, heights: np.ndarray, around: int) -> Mesh:
    """Turn a profile from foot to top about z; a radius of 0 at either end closes it in a point."""
    angles = np.arange(around) * 2 * np.pi / around
    ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    inner = slice(1, -1)
    rings = np.concatenate(
        [
            ring[:, None, :] * radii[None, inner, None],
            np.broadcast_to(heights[None, inner, None], (around, len(radii) - 2, 1)),
        ],
        axis=2,
    )
    body = grid_mesh(rings, loop_u=True, loop_v=False)
    columns = len(radii) - 2
    first = np.arange(around) * columns
    foot, top = around * columns, around * columns + 1
    ahead = np.roll(first, -1)
    fans = np.concatenate(
        [
            np.stack([np.full(around, foot), ahead, first], axis=1),
            np.stack([first + columns - 1, ahead + columns - 1, np.full(around, top)], axis=1),
        ]
    )
    vertices = np.concatenate([body.vertices, [[0, 0, heights[0]], [0, 0, heights[-1]]]])
    return Mesh(vertices, np.concatenate([body.faces, fans]).astype(np.int32))


def ellipsoid(a: float, b: float, c: float, steps: int = 96) -> Mesh:
    turns = np.linspace(-np.pi / 2, np.pi / 2, steps + 1)
    radii = np.cos(turns)
    radii[[0, -1]] = 0
    mesh = revolved(radii, np.sin(turns), 2 * steps)
    return Mesh(mesh.vertices * (a, b, c), mesh.faces)


def superellipsoid(a: float, b: float, c: float, e1: float, e2: float, steps: int = 96) -> Mesh:
    """By its semi-axes and its exponents, north-south and east-west."""
    v, u = np.linspace(-np.pi / 2, np.pi / 2, steps + 1), np.arange(2 * steps) * np.pi / steps
    mesh = revolved(np.where(np.abs(v) < np.pi / 2, np.cos(v), 0), np.sin(v), 2 * steps)
    ring = np.stack([np.cos(u), np.sin(u)], axis=1)
    ring = np.sign(ring) * np.abs(ring) ** e2
    rings = np.cos(v[1:-1]) ** e1
    heights = np.sign(np.sin(v)) * np.abs(np.sin(v)) ** e1
    body = np.concatenate(
        [
            ring[:, None, :] * rings[None, :, None],
            np.broadcast_to(heights[None, 1:-1, None], (2 * steps, steps - 1, 1)),
        ],
        axis=2,
    )
    vertices = np.concatenate([body.reshape(-1, 3), [[0, 0, -1], [0, 0, 1]]])
    return Mesh(vertices * (a, b, c), mesh.faces)


def frustum(bottom: float, top: float, height: float, around: int = 256) -> Mesh:
    """A frustum by its radii, closed at both ends."""
    radii = np.array([0.0, bottom, top, 0.0])
    return revolved(radii, np.array([0.0, 0.0, height, height]), around)


def torus(ring: float, tube: float, steps: int = 128) -> Mesh:
    """A torus lying flat, by the radius to the tube's middle and the tube's radius."""
    u = np.arange(2 * steps) * np.pi / steps
    v = np.arange(steps) * 2 * np.pi / steps
    across = ring + tube * np.cos(v)[None, :]
    rise = np.broadcast_to(tube * np.sin(v), (len(u), len(v)))
    points = np.stack([np.cos(u)[:, None] * across, np.sin(u)[:, None] * across, rise], axis=-1)
    return grid_mesh(points, loop_u=True, loop_v=True)


def box(length: float, width: float, height: float, parts: int = 1) -> Mesh:
    """A box from the origin, each side in ``parts`` by ``parts`` squares, its points shared."""
    steps = np.linspace(0, 1, parts + 1)
    u, v = np.meshgrid(steps, steps, indexing="ij")
    zero, one = np.zeros_like(u), np.ones_like(u)
    sides = [(v, u, zero), (u, v, one), (u, zero, v), (v, one, u), (zero, v, u), (one, u, v)]
    vertices, faces = [], []
    for side in sides:
        part = grid_mesh(np.stack(side, axis=-1), loop_u=False, loop_v=False)
        faces.append(part.faces + len(vertices) * (parts + 1) ** 2)
        vertices.append(part.vertices)
    points, place = np.unique(np.concatenate(vertices), axis=0, return_inverse=True)
    rows = place.reshape(-1)[np.concatenate(faces)]
    return Mesh(points * (length, width, height), rows.astype(np.int32))


def figure(steps: int = 60) -> Mesh:
    """A lamp-like standing figure of about 3.4 by 1.2 m: closed, round, uneven, the same on both sides of x = 0."""
    t = np.linspace(0, 1, 2 * steps + 1)
    radii = 0.35 + 0.18 * np.sin(5 * t + 0.6) + 0.12 * np.sin(11 * t)
    radii *= np.sqrt(np.clip(4 * np.minimum(t, 1 - t) * 4, 0, 1))
    radii[[0, -1]] = 0
    mesh = revolved(radii, 3.4 * t, 2 * steps)
    x, y, z = mesh.vertices.T
    swell = 1 + 0.15 * np.sin(3 * z) * np.sin(np.arctan2(y, x))
    return Mesh(np.stack([x * swell, y * swell + 0.1 * np.sin(2 * z), z], axis=1), mesh.faces)


def turned(mesh: Mesh, seed: int = 3) -> Mesh:
    """The same mesh, turned at random and moved away."""
    rng = np.random.default_rng(seed)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    turn *= np.sign(np.linalg.det(turn))
    return Mesh(mesh.vertices @ turn.T + rng.uniform(-20, 20, 3), mesh.faces)


def loose(mesh: Mesh) -> np.ndarray:
    """The corners one after another, nothing shared, shape (3 m, 3)."""
    return mesh.vertices[mesh.faces].reshape(-1, 3)
