"""Figures of crates, of the road and of standing in the wind."""

from materials.estimator.reference.rows import Rows

ROWS: Rows = {}
