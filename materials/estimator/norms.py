"""Person-hours of each step, as delivered: common practice, no source.

Hours to a square metre of finished skin unless ``per`` says otherwise; the
likely value is the middle of the range. Installation is no stage of a section
and is not here.
"""

from materials.estimator.spec import Norm

_Range = tuple[float, float]

# Stage, step, per, then low and high for grades C, B and A.
_ROWS: tuple[tuple[str, str, str, _Range, _Range, _Range], ...] = (
    ("pattern", "block_up", "m2", (0.5, 1), (1, 2), (1.5, 3)),
    ("pattern", "carve", "m2", (1, 2), (3, 6), (5, 10)),
    ("pattern", "hand_finish", "m2", (0.3, 0.8), (0.8, 2), (1.5, 3)),
    ("pattern", "hard_coat", "m2", (0.7, 1.2), (1, 2), (1.5, 3)),
    ("pattern", "fair", "m2", (0.5, 1), (2, 4), (5, 10)),
    ("pattern", "seal_and_wax", "m2", (0.3, 0.5), (0.8, 1.5), (2, 3)),
    ("mould", "part_walls", "m_seam", (0.4, 0.4), (0.6, 0.6), (0.8, 0.8)),
    ("mould", "laminate", "m2", (1.2, 1.8), (1.5, 2.5), (2, 3)),
    ("mould", "frames", "piece", (1, 2), (2, 4), (3, 6)),
    ("mould", "demould_and_drill", "piece", (1, 2), (2, 3), (3, 4)),
    ("cast", "prepare_mould", "m2", (0.1, 0.1), (0.25, 0.25), (0.4, 0.4)),
    ("cast", "gel_coat", "m2", (0.15, 0.15), (0.25, 0.25), (0.35, 0.35)),
    ("cast", "laminate", "m2_layer", (0.2, 0.2), (0.3, 0.3), (0.4, 0.4)),
    ("cast", "demould_and_trim", "m2", (0.3, 0.3), (0.45, 0.45), (0.6, 0.6)),
    ("cast", "join", "m_seam", (0.5, 0.5), (0.75, 0.75), (1.0, 1.0)),
    ("finish", "fair_seams", "m_seam", (0.4, 0.4), (1.0, 1.0), (2.0, 2.0)),
    ("finish", "prepare", "m2", (0.3, 0.3), (0.8, 0.8), (2.5, 2.5)),
    ("finish", "prime", "m2_coat", (0.1, 0.1), (0.2, 0.2), (0.25, 0.25)),
    ("finish", "topcoat", "m2_coat", (0.15, 0.15), (0.25, 0.25), (0.35, 0.35)),
    ("finish", "polish", "m2", (0, 0), (0, 0.5), (1, 3)),
    ("metalwork", "fabricate", "kg", (0.10, 0.10), (0.15, 0.15), (0.25, 0.25)),
    ("metalwork", "fit", "object", (4, 8), (8, 16), (12, 24)),
    ("crate", "build", "object", (6, 10), (8, 16), (10, 20)),
)

NORMS: tuple[Norm, ...] = tuple(
    Norm(stage, step, grade, per, float(low), (low + high) / 2, float(high))
    for stage, step, per, *ranges in _ROWS
    for grade, (low, high) in zip("CBA", ranges, strict=True)
)
