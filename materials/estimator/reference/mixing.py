"""Figures of the sheets that hang beside the mould: lay-up, mixing, panels, air."""

from materials.estimator.reference.rows import PRACTICE, Rows

ROWS: Rows = {
    "lay-up": (
        ("roll_width", "width of a roll of glass", "m", 0.90, 1.0, 1.27, "practice", PRACTICE),
        ("glass_lap", "lap of one cut of glass over the next", "m", 0.025, 0.04, 0.05, "practice", PRACTICE),
        ("longest_cut", "longest cut of glass that is handy", "m", 0.6, 1.2, 2.0, "practice", PRACTICE),
    ),
}  # fmt: skip
