"""The Tide Lantern's model, made of numbers alone: a foot, a waisted body, a collar and a fluted head. Invented."""

import numpy as np
from numpy.typing import NDArray

HEIGHT_M = 3.4
# Radius and height of the side, from the foot up, before the head is fluted [m].
SIDE = (
    *((0.00, 0.00), (0.70, 0.00), (0.70, 0.12), (0.61, 0.17), (0.48, 0.32), (0.40, 0.52), (0.36, 0.75)),
    *((0.335, 1.00), (0.33, 1.15), (0.36, 1.42), (0.44, 1.68), (0.54, 1.88), (0.59, 2.00), (0.655, 2.06)),
    *((0.67, 2.14), (0.655, 2.22), (0.59, 2.28), (0.585, 2.34), (0.63, 2.52), (0.62, 2.72), (0.56, 2.94)),
    *((0.44, 3.14), (0.27, 3.30), (0.11, 3.38), (0.00, 3.40)),
)
FLUTES = 14
DEEPEST_M = 0.045
HEAD_FROM_M = 2.32
AROUND = 84
STEP_M = 0.05


def lantern_stl() -> bytes:
    """The model as a binary STL in millimetres, as a designer would send it."""
    corners = _corners() * 1000
    records = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    records["corners"] = corners
    return b"Tide Lantern, third state".ljust(80) + np.uint32(len(corners)).tobytes() + records.tobytes()


def _corners() -> NDArray[np.float64]:
    """Every triangle's corners, shape (m, 3, 3) [m]."""
    radii, heights = _side()
    turns = np.arange(AROUND) * 2 * np.pi / AROUND
    share = np.clip((heights - HEAD_FROM_M) / (HEIGHT_M - HEAD_FROM_M), 0, 1)
    depth = DEEPEST_M * np.sin(np.pi * share)
    around = radii[:, None] - depth[:, None] * (1 - np.cos(FLUTES * turns))[None, :] / 2
    around[[0, -1]] = 0.0
    upright = np.broadcast_to(heights[:, None], around.shape)
    points = np.stack([around * np.cos(turns), around * np.sin(turns), upright], axis=-1)
    ahead = np.roll(points, -1, axis=1)
    low, low_ahead, high, high_ahead = points[:-1], ahead[:-1], points[1:], ahead[1:]
    one = np.stack([low, low_ahead, high_ahead], axis=2)[1:]
    other = np.stack([low, high_ahead, high], axis=2)[:-1]
    return np.concatenate([one.reshape(-1, 3, 3), other.reshape(-1, 3, 3)])


def _side() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Radius and height of the side at steps no longer than ``STEP_M``."""
    given = np.array(SIDE)
    lengths = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(given, axis=0), axis=1))])
    along = np.unique(np.concatenate([lengths, np.linspace(0, lengths[-1], int(lengths[-1] / STEP_M))]))
    return np.interp(along, lengths, given[:, 0]), np.interp(along, lengths, given[:, 1])
