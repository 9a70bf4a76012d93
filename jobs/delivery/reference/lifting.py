"""Figures of handling by hand and of lifting."""

from materials.estimator.reference.rows import PRACTICE, Rows

_FILTER = "HSE L23 and INDG143, figure of the lifting and lowering filter"
_TEXT = "HSE INDG143, text beside the filter"

# By what the hands pass through, from the floor up: close and at arm's length, higher (men) and lower (women) [kg].
_ZONES = (
    ("floor", "below mid lower leg", 10, 5, 7, 3),
    ("leg", "mid lower leg to knuckle", 20, 10, 13, 7),
    ("knuckle", "knuckle to elbow", 25, 15, 16, 10),
    ("elbow", "elbow to shoulder", 20, 10, 13, 7),
    ("shoulder", "above the shoulder", 10, 5, 7, 3),
)


def _filter_rows() -> tuple[tuple[str, str, str, float, float, float, str, str], ...]:
    rows = []
    for zone, words, men_close, men_arm, women_close, women_arm in _ZONES:
        for key, value, who in (
            (f"filter_higher_{zone}_close", men_close, "close, higher figures (men)"),
            (f"filter_higher_{zone}_arm", men_arm, "arm's length, higher figures (men)"),
            (f"filter_lower_{zone}_close", women_close, "close, lower figures (women)"),
            (f"filter_lower_{zone}_arm", women_arm, "arm's length, lower figures (women)"),
        ):
            # A studio may ask for less than the published filter; more is a caution.
            rows.append((key, f"one person, {words}, {who}", "kg", 1, value, value, "found-secondary", _FILTER))
    return tuple(rows)


ROWS: Rows = {
    "handling": (
        *_filter_rows(),
        ("filter_often_1", "taken off at one or two lifts a minute", "", 0.3, 0.3, 1, "found", _TEXT),
        ("filter_often_5", "taken off at five to eight lifts a minute", "", 0.5, 0.5, 1, "found", _TEXT),
        ("filter_often_12", "taken off above twelve lifts a minute", "", 0.8, 0.8, 1, "found", _TEXT),
        ("filter_twist_45", "taken off for a twist beyond 45 degrees", "", 0.1, 0.1, 1, "found", _TEXT),
        ("filter_twist_90", "taken off for a twist beyond 90 degrees", "", 0.2, 0.2, 1, "found", _TEXT),
        ("team_of_two", "two people, share of the sum of both", "", 0.5, 2 / 3, 2 / 3, "found",
         "HSE L23, team handling"),
        ("team_of_three", "three people, share of the sum of all", "", 0.4, 0.5, 0.5, "found",
         "HSE L23, team handling"),
        ("height_leg", "hands at mid lower leg", "m", 0.25, 0.30, 0.35, "practice", PRACTICE),
        ("height_knuckle", "hands at knuckle height", "m", 0.70, 0.75, 0.80, "found",
         "DHHS (NIOSH) 94-110, revised 2021: 75 cm, knuckles of a worker of 165 cm"),
        ("height_elbow", "hands at elbow height", "m", 0.95, 1.05, 1.15, "practice", PRACTICE),
        ("height_shoulder", "hands at shoulder height", "m", 1.25, 1.40, 1.50, "practice", PRACTICE),
        ("arms_length", "held at arm's length where it is deeper than", "m", 0.3, 0.4, 0.5, "practice", PRACTICE),
        ("lifting_constant", "load constant of the lifting equation", "kg", 15, 23, 23, "found",
         "DHHS (NIOSH) 94-110, revised 2021, p. 7"),
    ),
    "lifting": (
        ("sling_angle", "sling legs from the upright, usual", "degrees", 15, 45, 60, "found",
         "EN 13414-1:2003: leg factors in steps of 45 and 60 degrees"),
        ("lift_dynamic_factor", "dynamic factor of a crane pick", "", 1.1, 1.25, 2.0, "practice",
         f"{PRACTICE}: on chains, careful"),
        ("insert_design_factor", "design factor of points bonded into the laminate", "", 3, 5, 8, "practice",
         f"{PRACTICE}: with a proof test"),
    ),
    "fixings": (
        ("driver_clearance", "clear across for socket and driver, times the bolt", "", 2.0, 2.75, 4.0, "practice",
         f"{PRACTICE}: a deep socket is about 1.5 times the spanner size of 1.5 to 1.7 times the bolt"),
        ("bolt_edge", "bolt to the edge of the plate, times the bolt", "", 1.2, 1.5, 3.0, "memory",
         "EN 1993-1-8 Table 3.3: 1.2 times the hole at least"),
    ),
}  # fmt: skip
