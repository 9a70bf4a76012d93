"""What slings and lifting points have to hold, and whether a load hangs or turns over.

A competent person plans every lift (in the United Kingdom LOLER 1998,
regulation 8). These figures are what that person begins with.
"""

import math
from dataclasses import dataclass

from jobs.delivery.balance import Balance
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from materials.estimator.ranges import one_of, whole, within
from materials.estimator.reckoned import Reckoned, product

STEEPEST_DEG = 60.0
HITCHES = ("straight", "choked", "endless", "basket")
STANDARD_ROPE = "EN 13414-1 Table 4"
STANDARD_WEB = "BS EN 1492-1 and -2"

# Gravity, ISO 80000-3.
_GRAVITY_KN_KG = 9.80665e-3

# Leg factors by legs (three and four alike), up to 45 and up to 60 degrees from the upright.
_LEGS = {1: (1.0, 1.0), 2: (1.4, 1.0), 3: (2.1, 1.5), 4: (2.1, 1.5)}
# What a leg holds as it is hitched; an endless rope is EN 13414-1's. A basket with upright sides is twice a leg.
_HITCHED = {"straight": 1.0, "choked": 0.8, "endless": 1.6}
_BASKET_UPRIGHT = 2.0


@dataclass(frozen=True, slots=True)
class Rig:
    """How the load hangs.

    Attributes
    ----------
    legs : int
        Sling legs to the hook, 1 to 4 [each].
    is_stiff : bool
        Whether the load is too stiff to share between four legs, so that two may carry all of it.
    hitch : str
        "straight" to a shackle, "choked" round the load, "endless" for a choked endless rope, or "basket": one sling
        under the load, both its ends on the hook.
    out : Term
        From the middle between the points to each of them, level [m].
    hook : Term
        Hook above the points [m].
    points : Term
        Points above the foot of the load [m].
    dynamic : Term
        What starting and stopping adds, as a factor [dimensionless].
    design : Term
        Design factor of a point in the laminate [dimensionless].
    """

    legs: int
    is_stiff: bool
    hitch: str
    out: Term
    hook: Term
    points: Term
    dynamic: Term
    design: Term

    def __post_init__(self) -> None:
        whole("Sling legs", self.legs, "", 1, 4, "More than four are rigged under a beam; have the lift designed.")
        one_of("Hitch", self.hitch, HITCHES)
        within("Points from the middle", self.out.value, "m", 0, 50)
        within("Hook above the points", self.hook.value, "m", 0.05, 100)
        within("Points above the foot", self.points.value, "m", -50, 100)
        within("Dynamic factor", self.dynamic.value, "", 1, 3)
        within("Design factor of a point", self.design.value, "", 1, 20)
        if self.hitch == "basket":
            whole("Slings in a basket", self.legs, "", 1, 1, "Its two sides are reckoned as legs.")

    @property
    def sides(self) -> int:
        """Lines that go up to the hook [each]."""
        return 2 if self.hitch == "basket" else self.legs

    @property
    def counted(self) -> int:
        """Legs that are counted on [each]: of four on a stiff load two, of four that give three."""
        return min(self.sides, 2 if self.is_stiff and self.legs == 4 else 3)


@dataclass(frozen=True, slots=True)
class Lift:
    """What a rig asks for.

    Attributes
    ----------
    hung : Reckoned
        Mass with what starting and stopping adds [kg].
    angle : Reckoned
        Of the flattest leg from the upright [deg].
    tension : Reckoned
        In the leg that carries most, as the mass it would hold hanging straight [kg].
    force : Reckoned
        The same as a force [kN].
    capacity : Reckoned
        Least working load limit of one sling or leg, as marked for a straight pull [kg].
    point : Reckoned
        What each point in the laminate is designed and proof tested for [kN].
    leg : Reckoned
        Length of a leg from hook to point [m].
    above : Reckoned
        Points above the centre of mass [m]; below nothing the load turns over.
    """

    hung: Reckoned
    angle: Reckoned
    tension: Reckoned
    force: Reckoned
    capacity: Reckoned
    point: Reckoned
    leg: Reckoned
    above: Reckoned

    @property
    def turns_over(self) -> bool:
        """Whether the points are no higher than what they hold."""
        return self.above.value <= 0


def tension_factor(from_upright_deg: float) -> float:
    """How many times its share of the load a leg pulls with.

    Parameters
    ----------
    from_upright_deg : float
        Angle of the leg from the upright [deg].

    Returns
    -------
    float
        1 over its cosine [dimensionless]; closed form.

    Raises
    ------
    OutOfRange
        Above 60 degrees, where EN 13414-1 ends.
    """
    _check_angle(from_upright_deg)
    return 1 / math.cos(math.radians(from_upright_deg))


def leg_factor(legs: int, from_upright_deg: float) -> float:
    """What several legs hold together, over what one holds.

    Parameters
    ----------
    legs : int
        1 to 4 [each].
    from_upright_deg : float
        Angle of the legs from the upright [deg].

    Returns
    -------
    float
        [dimensionless]; EN 13414-1 Table 4, the same in BS EN 1492.

    Raises
    ------
    OutOfRange
        For other legs, or above 60 degrees.
    """
    whole("Sling legs", legs, "", 1, 4)
    _check_angle(from_upright_deg)
    return _LEGS[legs][from_upright_deg > 45]


def mode_factor(legs: int, hitch: str, from_upright_deg: float) -> float:
    """What slings hold as they are hitched, over the limit they are marked with for one straight leg.

    Parameters
    ----------
    legs : int
        1 to 4, of a basket 1 [each].
    hitch : str
        One of ``HITCHES``, as in ``Rig``.
    from_upright_deg : float
        Angle of the legs, or of the two sides of a basket, from the upright [deg].

    Returns
    -------
    float
        [dimensionless]; BS EN 1492-1 and -2, an endless rope EN 13414-1 Table 4.

    Raises
    ------
    UnknownChoice
        For another hitch.
    OutOfRange
        For other legs, or above 60 degrees.
    """
    one_of("Hitch", hitch, HITCHES)
    if hitch == "basket":
        whole("Slings in a basket", legs, "", 1, 1)
        _check_angle(from_upright_deg)
        return _BASKET_UPRIGHT if from_upright_deg == 0 else leg_factor(2, from_upright_deg)
    return leg_factor(legs, from_upright_deg) * _HITCHED[hitch]


def _check_angle(from_upright_deg: float) -> None:
    within(
        "Angle of the legs from the upright",
        round(from_upright_deg, 6),
        "degrees",
        0,
        STEEPEST_DEG,
        "Raise the hook or bring the points together: flatter than that no sling is rated.",
    )


def planned(balance: Balance, rig: Rig) -> Lift:
    """What the slings and points have to hold.

    The hook hangs over the centre of mass. Where that lies off the middle between the
    points, the near leg carries more; it is taken at the angle of the far one.

    Parameters
    ----------
    balance : Balance
    rig : Rig

    Returns
    -------
    Lift
        Statics, closed form; leg factors by EN 13414-1 and BS EN 1492; counting two legs of four on a stiff
        load is common practice, no source.

    Raises
    ------
    OutOfRange
        Above 60 degrees from the upright.
    EstimatorError
        When the centre of mass lies outside the points.
    """
    hung = product("mass with starting and stopping", "kg", [balance.mass.term, rig.dynamic])
    off = balance.off.term
    angle = _angle(rig, off)
    _check_angle(angle.value)
    tension = _tension(rig, hung, off, angle)
    far_m = rig.out.value + off.value if rig.sides > 1 else 0.0
    leg = Reckoned(
        "length of a leg",
        math.hypot(rig.hook.value, far_m),
        "m",
        f"root of ({rig.hook.label} squared + ({rig.out.label} + {off.label}) squared)",
        (rig.hook, rig.out, off),
    )
    force = product("pull in a leg", "kN", [tension.term, Term("gravity", _GRAVITY_KN_KG, "kN/kg", "ISO 80000-3")])
    above = Reckoned(
        "points above the balance point",
        rig.points.value - balance.height.value,
        "m",
        f"{rig.points.label} − {balance.height.name}",
        (rig.points, balance.height.term),
    )
    return Lift(
        hung=hung,
        angle=angle,
        tension=tension,
        force=force,
        capacity=_capacity(rig, hung, tension, angle),
        point=product("each point is designed for", "kN", [force.term, rig.design]),
        leg=leg,
        above=above,
    )


def _angle(rig: Rig, off: Term) -> Reckoned:
    if rig.sides == 1:
        return Reckoned("angle of the legs from the upright", 0.0, "degrees", "one leg hangs straight", ())
    if off.value >= rig.out.value:
        raise EstimatorError(
            "points",
            rig.out.value,
            f"The balance point lies {off.value:.3g} m from the middle, and the points only {rig.out.value:.3g} m; "
            "set the points further out, so that it hangs between them.",
        )
    degrees = math.degrees(math.atan2(rig.out.value + off.value, rig.hook.value))
    words = f"angle whose tangent is ({rig.out.label} + {off.label}) ÷ {rig.hook.label}"
    return Reckoned("angle of the legs from the upright", degrees, "degrees", words, (rig.out, off, rig.hook))


def _tension(rig: Rig, hung: Reckoned, off: Term, angle: Reckoned) -> Reckoned:
    legs = Term("legs counted on", rig.counted, "", _counted_words(rig))
    factors = [hung.term]
    if rig.sides > 1:
        # A rigid body on n points round a circle: the nearest holds (1 + k e/r)/n, k 1 for two and 2 for three.
        reach = 2 if rig.counted == 3 else 1
        shift = 1 + reach * off.value / rig.out.value
        factors.append(Term("share of the near leg", shift, "", f"1 + {reach} × off the middle ÷ points from it"))
    factors.append(Term("1 ÷ cosine of the angle", tension_factor(angle.value), "", "closed form"))
    return product("load in the leg that carries most", "kg", factors, [legs])


def _counted_words(rig: Rig) -> str:
    if rig.legs == 4 and rig.is_stiff:
        return "two of four: a stiff load may hang on a diagonal"
    return "three of four, as EN 13414-1 counts them" if rig.legs == 4 else "all of them"


def _capacity(rig: Rig, hung: Reckoned, tension: Reckoned, angle: Reckoned) -> Reckoned:
    """The larger of what statics asks of one leg and what the rounded factors of the standard ask."""
    left = Term(f"{rig.hitch} hitch", _HITCHED.get(rig.hitch, 1.0), "", f"{STANDARD_WEB}, {STANDARD_ROPE}")
    by_statics = product("capacity of one sling", "kg", [tension.term], [left])
    legs = 1 if rig.hitch == "basket" else rig.counted
    factor = Term("leg factor", mode_factor(legs, rig.hitch, angle.value), "", f"{STANDARD_ROPE}, {STANDARD_WEB}")
    by_standard = product("capacity of one sling", "kg", [hung.term], [factor])
    return max(by_statics, by_standard, key=lambda each: each.value)
