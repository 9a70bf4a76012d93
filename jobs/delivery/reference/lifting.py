"""Figures of handling by hand and of lifting."""

from materials.estimator.reference.rows import Rows

ROWS: Rows = {}
