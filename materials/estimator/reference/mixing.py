"""Figures of the sheets that hang beside the mould: lay-up, mixing, panels, air."""

from materials.estimator.reference.rows import PRACTICE, Rows

ROWS: Rows = {
    "lay-up": (
        ("roll_width", "width of a roll of glass", "m", 0.90, 1.0, 1.27, "practice", PRACTICE),
        ("glass_lap", "lap of one cut of glass over the next", "m", 0.025, 0.04, 0.05, "practice", PRACTICE),
        ("longest_cut", "longest cut of glass that is handy", "m", 0.6, 1.2, 2.0, "practice", PRACTICE),
    ),
    "mixing": (
        ("laid_rate", "resin one person lays", "kg/min", 0.20, 0.35, 0.60, "practice", PRACTICE),
        ("usable_gel_share", "share of the gel time in which resin wets out", "", 0.50, 0.65, 0.80, "practice",
         PRACTICE),
        ("bucket_most", "largest batch in one bucket", "kg", 1, 3, 5, "practice",
         f"{PRACTICE}: a larger one heats itself"),
        ("filler_hardener", "paste hardener in fairing filler, by weight", "percent", 1, 2, 3, "practice", PRACTICE),
    ),
}  # fmt: skip
