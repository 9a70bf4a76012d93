"""The figures of costing and of waiting that a studio may differ on, as delivered.

Evidence is as in ``materials.estimator.reference``. Tax rates and wages are not
here: they have dates, and the studio enters its own.
"""

from collections.abc import Mapping

from materials.estimator.reference.rows import PRACTICE, Rows, coefficients_of
from materials.estimator.spec import Coefficient

_ROWS: Rows = {
    "costing": (
        ("oncost", "on-cost of wages", "", 0.20, 0.28, 0.35, "practice",
         f"{PRACTICE}: employer's insurance, pension, holidays, sickness"),
        ("productive_share", "productive share of paid hours", "", 0.70, 0.80, 0.90, "practice", PRACTICE),
        ("consumables", "consumables, share of materials", "", 0.05, 0.075, 0.10, "practice",
         f"{PRACTICE}: brushes, rollers, cups, tape, gloves, masks"),
        ("sent_out_handling", "handling of sent-out work, share of its cost", "", 0.05, 0.10, 0.15, "practice",
         PRACTICE),
        ("contingency", "contingency, share of the base", "", 0.03, 0.075, 0.15, "found",
         "Commissions North guideline: 3 to 15 % by complexity"),
        ("margin", "margin, share of the price", "", 0.10, 0.18, 0.35, "practice", PRACTICE),
    ),
    "holds": (
        ("hold_overnight", "longest hold that a night covers", "h", 12, 16, 16, "practice", PRACTICE),
        ("hold_filler", "plaster filler on foam, to a millimetre", "h/mm", 4, 12, 24, "practice", PRACTICE),
        ("hold_mould_on_pattern", "mould stays on the pattern", "h", 24, 72, 168, "found",
         "suppliers: several days for a full cure"),
        ("hold_new_mould", "new mould rests before the first cast", "h", 24, 48, 168, "practice", PRACTICE),
        ("hold_cast", "cast stays in the mould", "h", 12, 24, 48, "practice", PRACTICE),
        ("hold_paint", "topcoat hardens before it is wrapped", "h", 120, 168, 336, "practice", PRACTICE),
        ("workshop_temperature", "workshop on most days", "°C", 15, 20, 25, "found",
         "gel coat data sheet: 18 to 25 °C; suppliers: 15 to 20 °C"),
        ("cold_slow_below", "cure takes longer below", "°C", 12, 15, 18, "practice", PRACTICE),
        ("cold_stop_below", "no laying up below", "°C", 5, 10, 15, "practice", PRACTICE),
        ("cold_factor", "how many times as long a cure takes in the cold", "", 1.5, 2, 4, "practice", PRACTICE),
    ),
    "planning": (
        ("plan_bays", "bays indoors, each for one section", "", 1, 5, 20, "practice", PRACTICE),
        ("plan_booths", "spray booths", "", 0, 1, 4, "practice", PRACTICE),
        ("sign_off_days", "working days until a commissioner signs", "day", 2, 5, 15, "practice", PRACTICE),
        ("sign_off_least", "working days until a commissioner signs, at the least", "day", 1, 2, 5, "practice",
         PRACTICE),
        ("sign_off_most", "working days until a commissioner signs, at the most", "day", 6, 12, 40, "practice",
         PRACTICE),
        ("sent_out_least", "time that work sent out takes at the least, share of what is said", "", 0.6, 0.9, 1.0,
         "practice", PRACTICE),
        ("sent_out_most", "time that work sent out takes at the most, share of what is said", "", 1.0, 1.5, 3.0,
         "practice", PRACTICE),
        ("winter_least", "more time that outdoor work takes in winter at the least, share of it", "", 0.0, 0.1, 0.25,
         "practice", PRACTICE),
        ("winter_most", "more time that outdoor work takes in winter at the most, share of it", "", 0.25, 0.6, 1.5,
         "practice", PRACTICE),
        ("winter_allowance", "more time that outdoor work takes from November to March, share of it", "",
         0.1, 0.25, 0.6, "practice", PRACTICE),
        ("saturday_premium", "more paid for an hour on a Saturday, share of the wage", "", 0.25, 0.5, 1.0, "practice",
         PRACTICE),
        ("hired_premium", "more paid for an hour of somebody hired, share of the wage", "", 0.1, 0.4, 1.0, "practice",
         PRACTICE),
    ),
}  # fmt: skip

COEFFICIENTS: Mapping[str, Coefficient] = coefficients_of(_ROWS)
