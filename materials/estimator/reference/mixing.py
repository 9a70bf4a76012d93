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
    "panels": (
        ("panel_wind", "wind on a flat panel", "N/m^2", 250, 500, 1500, "practice",
         f"{PRACTICE}: the sheet on wind gives the place's own"),
        ("hand_push", "push by hand", "N", 150, 300, 1000, "practice", PRACTICE),
        ("palm", "radius of the palm that pushes", "m", 0.03, 0.05, 0.10, "practice", PRACTICE),
        ("panel_safety", "factor on flexural strength", "", 2, 4, 6, "practice",
         f"{PRACTICE}: ISO 12215-5 takes 2 with its own boat loads; a static piece outdoors for long wants more"),
        ("panel_span_share", "span over deflection of a flat panel", "", 50, 100, 200, "practice",
         f"{PRACTICE}: a wobble is seen from about span/50"),
    ),
}  # fmt: skip
