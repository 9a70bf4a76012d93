"""The revised lifting equation, for one person who lifts with both hands.

DHHS (NIOSH) 94-110, revised 2021. It compares a load with what nearly all
healthy workers lift over a working day; it says nothing of a load lifted by
several, carried, or lifted in a way the manual rules out, and is refused there.
"""

import math
from bisect import bisect_right
from dataclasses import dataclass

from materials.estimator.errors import EstimatorError, OutOfRange
from materials.estimator.lines import Term
from materials.estimator.ranges import one_of, within
from materials.estimator.reckoned import Reckoned, product

MANUAL = "DHHS (NIOSH) 94-110"

# What the manual rules out (p. 6), by key, in the words of the refusal.
RULED_OUT = {
    "one_hand": "lifting with one hand",
    "seated": "lifting while seated or kneeling",
    "cramped": "lifting in a restricted space",
    "unstable": "a load that shifts, such as a bucket of resin",
    "carried": "lifting while carrying, pushing or pulling",
    "long": "lifting for more than eight hours",
}
DURATIONS = ("1", "2", "8")
COUPLINGS = ("good", "fair", "poor")

# 94-110 Table 5 p. 15: lifts a minute, then up to 1, 2 and 8 hours, from below 75 cm and from 75 cm on.
_RATES = (0.2, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0)
_FREQUENCY = {
    ("1", True): (1.0, 0.97, 0.94, 0.91, 0.88, 0.84, 0.8, 0.75, 0.7, 0.6, 0.52, 0.45, 0.41, 0.37, 0.0, 0.0, 0.0),
    ("1", False): (1.0, 0.97, 0.94, 0.91, 0.88, 0.84, 0.8, 0.75, 0.7, 0.6, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28),
    ("2", True): (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.6, 0.5, 0.42, 0.35, 0.3, 0.26, 0.0, 0.0, 0.0, 0.0, 0.0),
    ("2", False): (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.6, 0.5, 0.42, 0.35, 0.3, 0.26, 0.23, 0.21, 0.0, 0.0, 0.0),
    ("8", True): (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    ("8", False): (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13, 0.0, 0.0, 0.0, 0.0, 0.0),
}
# 94-110 Table 7: below 75 cm, and from 75 cm on; the row "good" from memory.
_COUPLING = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.9, 0.9)}
_KNUCKLE_CM = 75.0


@dataclass(frozen=True, slots=True)
class OnePersonLift:
    """One lift as the equation sees it.

    Attributes
    ----------
    pick_cm, set_cm : float
        Height of the hands at pick-up and at set-down [cm].
    pick_reach_cm, set_reach_cm : float
        From between the ankles to between the hands, level, at pick-up and at set-down [cm].
    turned_deg : float
        How far the load is turned from straight ahead [deg].
    lifts_per_min : float
        Over fifteen minutes [1/min].
    duration : str
        "1", "2" or "8": lifting goes on for so many hours at most [h].
    coupling : str
        "good", "fair" or "poor": how the hands hold it.
    """

    pick_cm: float
    set_cm: float
    pick_reach_cm: float
    set_reach_cm: float
    turned_deg: float
    lifts_per_min: float
    duration: str
    coupling: str

    def __post_init__(self) -> None:
        for name, value in (("pick-up", self.pick_cm), ("set-down", self.set_cm)):
            within(f"Height of the hands at {name}", value, "cm", 0, 250)
        for name, value in (("pick-up", self.pick_reach_cm), ("set-down", self.set_reach_cm)):
            within(f"Reach at {name}", value, "cm", 0, 200)
        within("Turned from straight ahead", self.turned_deg, "degrees", 0, 180)
        within("Lifts a minute", self.lifts_per_min, "", 0, 60)
        one_of("Duration", self.duration, DURATIONS)
        one_of("Coupling", self.coupling, COUPLINGS)


def reach_cm(depth_cm: float, height_cm: float) -> float:
    """How far out the hands hold a load of some depth, where it cannot be measured.

    Parameters
    ----------
    depth_cm : float
        Front to back, towards the body [cm].
    height_cm : float
        Height of the hands [cm].

    Returns
    -------
    float
        20 cm and half the depth, 25 cm and half of it below 25 cm [cm]; DHHS (NIOSH) 94-110 p. 8.

    Raises
    ------
    OutOfRange
        For a depth or height below nothing.
    """
    within("Depth of the load", depth_cm, "cm", 0, 1000)
    within("Height of the hands", height_cm, "cm", 0, 250)
    return (20.0 if height_cm >= 25 else 25.0) + depth_cm / 2


def averaged_rate(lifts_per_min: float, minutes: float) -> float:
    """Lifts a minute over fifteen minutes of which only some are worked.

    Parameters
    ----------
    lifts_per_min : float
        While there is lifting [1/min].
    minutes : float
        Minutes of the fifteen in which there is lifting [min].

    Returns
    -------
    float
        [1/min]; DHHS (NIOSH) 94-110 p. 16.

    Raises
    ------
    OutOfRange
        For a rate below nothing, or minutes outside 0 to 15.
    """
    within("Lifts a minute", lifts_per_min, "", 0, 60)
    within("Minutes of lifting in fifteen", minutes, "min", 0, 15)
    return lifts_per_min * minutes / 15


def horizontal_multiplier(reach: float) -> float:
    """How much the reach leaves.

    Parameters
    ----------
    reach : float
        [cm]

    Returns
    -------
    float
        25 over the reach, 1 within 25 cm, nothing beyond 63 cm [dimensionless]; DHHS (NIOSH) 94-110 p. 8.
    """
    return 0.0 if reach > 63 else 25 / max(25.0, reach)


def vertical_multiplier(height: float) -> float:
    """How much the height of the hands leaves.

    Parameters
    ----------
    height : float
        [cm]

    Returns
    -------
    float
        1 at 75 cm, nothing above 175 cm [dimensionless]; DHHS (NIOSH) 94-110 p. 9.
    """
    return 0.0 if height > 175 else 1 - 0.003 * abs(height - _KNUCKLE_CM)


def distance_multiplier(distance: float) -> float:
    """How much the way up or down leaves.

    Parameters
    ----------
    distance : float
        [cm]

    Returns
    -------
    float
        1 within 25 cm, nothing beyond 175 cm [dimensionless]; DHHS (NIOSH) 94-110 p. 10.
    """
    return 0.0 if distance > 175 else 0.82 + 4.5 / max(25.0, distance)


def asymmetric_multiplier(turned_deg: float) -> float:
    """How much turning away leaves.

    Parameters
    ----------
    turned_deg : float
        [deg]

    Returns
    -------
    float
        Nothing beyond 135 degrees [dimensionless]; DHHS (NIOSH) 94-110 p. 11.
    """
    return 0.0 if turned_deg > 135 else 1 - 0.0032 * turned_deg


def frequency_multiplier(lifts_per_min: float, duration: str, pick_cm: float) -> float:
    """How much the rate leaves, straight lines between the printed rates.

    Parameters
    ----------
    lifts_per_min : float
        [1/min]
    duration : str
        "1", "2" or "8" [h].
    pick_cm : float
        Height of the hands at pick-up [cm].

    Returns
    -------
    float
        Nothing above 15 a minute [dimensionless]; DHHS (NIOSH) 94-110 Table 5.

    Raises
    ------
    UnknownChoice
        For another duration.
    """
    one_of("Duration", duration, DURATIONS)
    column = _FREQUENCY[duration, pick_cm < _KNUCKLE_CM]
    if lifts_per_min > _RATES[-1]:
        return 0.0
    rate = max(_RATES[0], lifts_per_min)
    above = min(bisect_right(_RATES, rate), len(_RATES) - 1)
    share = (rate - _RATES[above - 1]) / (_RATES[above] - _RATES[above - 1])
    return column[above - 1] + share * (column[above] - column[above - 1])


def coupling_multiplier(coupling: str, height_cm: float) -> float:
    """How much the hold of the hands leaves.

    Parameters
    ----------
    coupling : str
        "good", "fair" or "poor".
    height_cm : float
        Height of the hands at the end that is assessed [cm].

    Returns
    -------
    float
        [dimensionless]; DHHS (NIOSH) 94-110 Table 7.

    Raises
    ------
    UnknownChoice
        For another hold.
    """
    one_of("Coupling", coupling, COUPLINGS)
    return _COUPLING[coupling][height_cm >= _KNUCKLE_CM]


def recommended(lift: OnePersonLift, constant: Term) -> tuple[Reckoned, Reckoned]:
    """The recommended weight at pick-up and at set-down; the lower counts where the load is set down with care.

    Parameters
    ----------
    lift : OnePersonLift
    constant : Term
        Load constant, in the unit the answer is wanted in [kg].

    Returns
    -------
    tuple of Reckoned and Reckoned
        [kg]; DHHS (NIOSH) 94-110 p. 7, frequency by the height at pick-up at both ends.
    """
    shared = (
        Term("way up or down", distance_multiplier(abs(lift.set_cm - lift.pick_cm)), "", f"{MANUAL} p. 10"),
        Term("turned", asymmetric_multiplier(lift.turned_deg), "", f"{MANUAL} p. 11"),
        Term("rate", frequency_multiplier(lift.lifts_per_min, lift.duration, lift.pick_cm), "", f"{MANUAL} Table 5"),
    )
    ends = (
        ("pick-up", lift.pick_reach_cm, lift.pick_cm),
        ("set-down", lift.set_reach_cm, lift.set_cm),
    )
    at_pick, at_set = (
        product(
            f"recommended at {name}",
            constant.unit,
            [
                constant,
                Term("reach", horizontal_multiplier(reach), "", f"{MANUAL} p. 8, {reach:.0f} cm"),
                Term("height", vertical_multiplier(height), "", f"{MANUAL} p. 9, {height:.0f} cm"),
                *shared,
                Term("hold of the hands", coupling_multiplier(lift.coupling, height), "", f"{MANUAL} Table 7"),
            ],
        )
        for name, reach, height in ends
    )
    return at_pick, at_set


def lifting_index(load: Term, lift: OnePersonLift, constant: Term, ruled_out: str = "") -> tuple[Reckoned, ...]:
    """The load over what is recommended: 1 is the aim, above 3 many would be hurt.

    Parameters
    ----------
    load : Term
        [kg]
    lift : OnePersonLift
    constant : Term
        Load constant [kg].
    ruled_out : str
        A key of ``RULED_OUT`` where the manual rules the lift out, else "".

    Returns
    -------
    tuple of Reckoned
        The index [dimensionless], then the weights recommended at both ends [kg]; DHHS (NIOSH) 94-110.

    Raises
    ------
    EstimatorError
        Where the equation does not apply, or recommends nothing at all.
    OutOfRange
        When the load is none.
    """
    if ruled_out:
        one_of("What the manual rules out", ruled_out, RULED_OUT)
        raise EstimatorError(
            "lifting equation",
            ruled_out,
            f"The lifting equation does not apply to {RULED_OUT[ruled_out]} ({MANUAL} p. 6); "
            "have somebody competent assess the lift.",
        )
    if not 1e-3 <= load.value <= 1e6 or not math.isfinite(load.value):
        raise OutOfRange("Mass of the load", load.value, "kg", 1e-3, 1e6)
    at_pick, at_set = recommended(lift, constant)
    least = min(at_pick, at_set, key=lambda each: each.value)
    if least.value <= 0:
        nothing = next(term.label for term in least.terms if term.value <= 0)
        raise EstimatorError(
            "lifting equation",
            nothing,
            f"The lifting equation recommends nothing at all here, for its factor “{nothing}” is nought; "
            "bring the load nearer and lower, lift less often, or use a hoist.",
        )
    return product("lifting index", "", [load], [least.term]), at_pick, at_set
