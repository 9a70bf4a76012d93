"""Figures of the sheets that hang beside the mould: lay-up, mixing, panels, air."""

from materials.estimator.reference.rows import PRACTICE, Rows

_EH40 = "EH40/2005, fourth edition of 2020, Table 1, from memory: check it, and the rules where you work"

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
    "fillers": (
        ("filler_density_talc", "density of talc", "kg/m^3", 2700, 2750, 2850, "memory", "handbooks of minerals"),
        ("filler_parts_talc", "talc to 100 of resin, by mass", "", 20, 60, 150, "practice",
         f"{PRACTICE}: a paste that sands"),
        ("filler_density_chalk", "density of chalk", "kg/m^3", 2650, 2710, 2800, "memory",
         "handbooks of minerals: calcite"),
        ("filler_parts_chalk", "chalk to 100 of resin, by mass", "", 20, 50, 120, "practice",
         f"{PRACTICE}: above about 100 no hand works it"),
        ("filler_density_bubbles", "density of glass bubbles", "kg/m^3", 125, 150, 600, "memory",
         "makers' data sheets: it differs with the grade"),
        ("filler_parts_bubbles", "glass bubbles to 100 of resin, by mass", "", 8, 15, 25, "practice",
         f"{PRACTICE}: light, and soft to sand"),
        ("filler_density_silica", "density of fumed silica", "kg/m^3", 2000, 2200, 2300, "memory",
         "makers' data sheets: of the particles, not of the sack"),
        ("filler_parts_silica", "fumed silica to 100 of resin, by mass", "", 1, 3, 6, "practice",
         f"{PRACTICE}: so that it does not run"),
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
    "air": (
        ("resin_styrene", "styrene in laminating resin, by mass", "", 0.28, 0.35, 0.45, "found",
         "resin data sheet: volatile content 33 ± 2 %"),
        ("gel_coat_styrene", "styrene in gel coat, by mass", "", 0.28, 0.37, 0.45, "found",
         "United States' limits for gel coat: 30 to 48 %"),
        ("vent_mixing", "factor for imperfect mixing of air", "", 3, 5, 10, "found",
         "pages of university and research safety offices; ACGIH 3 to 10, from memory"),
        ("styrene_target", "styrene the studio keeps below", "ppm", 20, 50, 100, "found",
         "voluntary target of a United Kingdom trade body"),
        ("room_volume", "room where resin is laid", "m^3", 60, 400, 3000, "practice", PRACTICE),
        ("room_air_changes", "air changes of that room", "1/h", 1, 6, 30, "practice",
         f"{PRACTICE}: measure them, or take the fans' plate with care"),
        ("believable_air_changes", "most air changes that dilution can claim", "1/h", 10, 20, 30, "practice", PRACTICE),
    ),
    "limits in air": (
        ("styrene_8h", "styrene, 8 hours", "ppm", 10, 100, 100, "found", _EH40),
        ("styrene_15min", "styrene, 15 minutes", "ppm", 20, 250, 250, "memory", _EH40),
        ("acetone_8h", "acetone, 8 hours", "ppm", 250, 500, 500, "memory", _EH40),
        ("acetone_15min", "acetone, 15 minutes", "ppm", 500, 1500, 1500, "memory", _EH40),
        ("mekp_15min", "MEKP, 15 minutes", "ppm", 0.1, 0.2, 0.2, "memory", _EH40),
        ("inhalable_dust_8h", "dust that can be inhaled, 8 hours", "mg/m^3", 4, 10, 10, "memory", _EH40),
        ("respirable_dust_8h", "dust that reaches the lung, 8 hours", "mg/m^3", 1, 4, 4, "memory", _EH40),
        ("isocyanate_8h", "isocyanates as NCO, 8 hours", "mg/m^3", 0.01, 0.02, 0.02, "memory", _EH40),
        ("isocyanate_15min", "isocyanates as NCO, 15 minutes", "mg/m^3", 0.02, 0.07, 0.07, "memory", _EH40),
    ),
}  # fmt: skip
