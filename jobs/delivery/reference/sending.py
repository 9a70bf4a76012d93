"""Figures of crates, of cutting, of doors and of standing in the wind."""

from materials.estimator.reference.rows import Rows

PRACTICE = "common practice, no source"
_EN_WIND = "EN 1991-1-4"
_EN_BASIS = "EN 1990"

ROWS: Rows = {
    "crate building": (
        ("crate_plywood", "thickness of crate plywood", "m", 0.009, 0.012, 0.018, "practice", PRACTICE),
        ("crate_plywood_density", "density of plywood", "kg/m^3", 500, 550, 700, "memory",
         "softwood plywood 500 to 560, birch 680 to 700"),
        ("crate_batten_side", "side of a crate batten", "m", 0.038, 0.05, 0.075, "practice", PRACTICE),
        ("crate_batten_spacing", "battens of a crate about", "m", 0.4, 0.6, 0.8, "practice",
         f"{PRACTICE}: 600 mm centres"),
        ("crate_timber_density", "density of softwood", "kg/m^3", 420, 480, 550, "memory",
         "C16 and C24 at 15 to 20 % moisture"),
        ("crate_skid_side", "side of a skid", "m", 0.075, 0.10, 0.15, "practice",
         f"{PRACTICE}: the forks of a pallet truck want 90 mm"),
        ("crate_skid_spacing", "skids of a crate about", "m", 0.7, 1.0, 1.3, "practice", PRACTICE),
        ("crate_pad_pressure", "what a foam pad bears", "kPa", 5, 10, 20, "practice",
         f"{PRACTICE}: closed-cell foam; the maker's sheet decides"),
        ("crate_pad_side", "side of a foam pad", "m", 0.10, 0.15, 0.30, "practice", PRACTICE),
        ("crate_pad_density", "density of foam pads", "kg/m^3", 20, 33, 60, "memory", "closed-cell polyethylene foam"),
        ("crate_fixings", "screws, nails and brackets, share of a crate's timber", "", 0.01, 0.02, 0.05, "practice",
         PRACTICE),
    ),
    "cutting": (
        ("sheet_length", "length of a plywood sheet", "m", 2.4, 2.44, 3.05, "memory", "8 × 4 ft sheet"),
        ("sheet_width", "width of a plywood sheet", "m", 1.2, 1.22, 1.525, "memory", "8 × 4 ft sheet"),
        ("saw_cut", "width of the saw's cut", "m", 0.0022, 0.003, 0.004, "practice", PRACTICE),
        ("wire_cut", "width of the hot wire's cut", "m", 0.001, 0.0015, 0.003, "practice", PRACTICE),
        ("foam_room", "left round a layer of foam to carve away", "m", 0.005, 0.01, 0.025, "practice",
         f"{PRACTICE}: on each face"),
    ),
    "doors and lorries": (
        ("passage_beside", "room wanted beside a crate, both sides together", "m", 0.05, 0.10, 0.20, "practice",
         PRACTICE),
        ("passage_above", "room wanted above a crate", "m", 0.03, 0.05, 0.10, "practice", PRACTICE),
        ("passage_raised", "a crate on a pallet truck stands higher by", "m", 0.03, 0.05, 0.12, "practice", PRACTICE),
        ("restraint_forward", "restraint forwards, share of the weight", "", 0.8, 1.0, 1.0, "memory",
         "DfT and DVSA code of practice, Safety of Loads on Vehicles"),
        ("restraint_sideways", "restraint sideways and rearwards, share of the weight", "", 0.5, 0.5, 0.6, "memory",
         "DfT and DVSA code of practice, Safety of Loads on Vehicles"),
    ),
    "wind": (
        ("wind_basic", "basic wind speed of the place", "m/s", 21, 23, 27, "memory",
         "UK National Annex to EN 1991-1-4, map; before the ground's altitude"),
        ("wind_altitude", "more wind to a metre of altitude", "1/m", 0, 0.001, 0.001, "memory",
         "UK National Annex to EN 1991-1-4: 1 + 0.001 × altitude"),
        ("air_density", "density of air", "kg/m^3", 1.226, 1.25, 1.25, "found",
         f"{_EN_WIND} recommends 1.25; UK National Annex 1.226 (from memory)"),
        ("wind_factor", "partial factor on the wind", "", 1.5, 1.5, 1.5, "found", f"{_EN_BASIS}: variable action 1.50"),
        ("rest_factor", "partial factor on the weight that holds", "", 0.9, 0.9, 0.9, "memory",
         f"{_EN_BASIS} Table A1.2(A)"),
        ("foot_friction", "friction of the foot on concrete", "", 0.2, 0.3, 0.4, "memory",
         "glass fibre on concrete, from memory"),
        ("force_board", "force coefficient of a flat board", "", 1.5, 1.8, 2.1, "memory", f"{_EN_WIND} 7.4.3"),
        ("force_figure", "force coefficient of a figure of any shape", "", 0.6, 1.3, 2.1, "found",
         "between round and flat; a screening value"),
        ("force_round", "force coefficient of a smooth upright round", "", 0.7, 1.2, 1.2, "found-secondary",
         "IS 875-3:2015 Table 24, smooth and D × V below 6 m²/s"),
        ("force_round_rough", "force coefficient of a rough upright round", "", 0.7, 0.7, 1.2, "found-secondary",
         "IS 875-3:2015 Table 24"),
        ("force_ball", "force coefficient of a ball", "", 0.5, 0.6, 0.8, "memory",
         "a safe value for a rough ball, from memory"),
    ),
}  # fmt: skip
