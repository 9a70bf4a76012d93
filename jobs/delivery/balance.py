"""Where a load balances: the centre of mass of a shell, and of several parts together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from materials.estimator.errors import Missing
from materials.estimator.form import Form, Station
from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned

# Nearer to the middle than a hundredth of a millimetre is rounding.
_ROUNDING_M = 1e-5


@dataclass(frozen=True, slots=True)
class LoadPart:
    """One part of what is lifted.

    Attributes
    ----------
    mass : Term
        [kg]
    height : Term
        Of its centre above the foot [m].
    aside, behind : Term
        Of its centre from the middle, to the right and to the back [m].
    """

    mass: Term
    height: Term
    aside: Term
    behind: Term

    def __post_init__(self) -> None:
        within(self.mass.label.capitalize(), self.mass.value, "kg", 0, 1e6)
        for term in (self.height, self.aside, self.behind):
            within(term.label.capitalize(), term.value, "m", -1000, 1000)


@dataclass(frozen=True, slots=True)
class Balance:
    """Several parts as one: mass [kg], and its centre above the foot, and to the right and back of the middle [m]."""

    mass: Reckoned
    height: Reckoned
    aside: Reckoned
    behind: Reckoned

    @property
    def off(self) -> Reckoned:
        """From the middle, level, whichever way [m]."""
        value = math.hypot(self.aside.value, self.behind.value)
        terms = (self.aside.term, self.behind.term)
        return Reckoned("balance point off the middle", value, "m", "root of the sum of both squared", terms)


def balanced(parts: Sequence[LoadPart]) -> Balance:
    """The centre of mass of several parts: Σ(mass × place) over Σ mass.

    Parameters
    ----------
    parts : sequence of LoadPart

    Returns
    -------
    Balance
        Closed form.

    Raises
    ------
    Missing
        When there is no mass at all.
    """
    real = [part for part in parts if part.mass.value > 0]
    total_kg = math.fsum(part.mass.value for part in real)
    if total_kg <= 0:
        raise Missing("Mass of the load", "give its lay-up, or enter what is lifted.")
    masses = tuple(part.mass for part in real)
    mass = Reckoned("mass lifted", total_kg, "kg", " + ".join(term.label for term in masses), masses)

    def centre(name: str, places: Sequence[Term]) -> Reckoned:
        # What stands in the middle moves nothing, and is left out of the words.
        moving = [
            (part.mass, place) for part, place in zip(real, places, strict=True) if abs(place.value) > _ROUNDING_M
        ]
        if not moving:
            return Reckoned(name, 0.0, "m", "every part stands in the middle", ())
        if len(real) == 1:
            return Reckoned(name, places[0].value, "m", places[0].label, (places[0],))
        moment = math.fsum(one.value * place.value for one, place in moving)
        words = " + ".join(f"{one.label} × {place.label}" for one, place in moving)
        terms = tuple(term for pair in moving for term in pair)
        value = moment / total_kg if abs(moment / total_kg) > _ROUNDING_M else 0.0
        return Reckoned(name, value, "m", f"({words}) ÷ {mass.name}", (*terms, mass.term))

    return Balance(
        mass,
        centre("balance point above the foot", [part.height for part in real]),
        centre("balance point right of the middle", [part.aside for part in real]),
        centre("balance point behind the middle", [part.behind for part in real]),
    )


def weighed(balance: Balance, left: Term, right: Term, apart: Term) -> Balance:
    """A load that stood on two scales under its left and its right end, equally far from the middle.

    Parameters
    ----------
    balance : Balance
        As it was reckoned; its height and depth stay.
    left, right, apart : Term
        What each scale showed [kg], and from one to the other [m].

    Returns
    -------
    Balance
        By the lever.

    Raises
    ------
    OutOfRange
        For scales that showed nothing, or stood on one another.
    """
    for scale in (left, right):
        within(scale.label.capitalize(), scale.value, "kg", 0, 1e5)
    within(apart.label.capitalize(), apart.value, "m", 0.05, 50)
    mass_kg = left.value + right.value
    within("Mass on both scales", mass_kg, "kg", 0.1, 1e5)
    mass = Reckoned(balance.mass.name, mass_kg, "kg", f"{left.label} + {right.label}", (left, right))
    aside_m = apart.value * (right.value / mass_kg - 0.5)
    words = f"{apart.label} × ({right.label} ÷ {mass.name} − ½)"
    aside = Reckoned(balance.aside.name, aside_m, "m", words, (apart, right, mass.term))
    return replace(balance, mass=mass, aside=aside)


def shell_centre_m(form: Form) -> tuple[float, float, float]:
    """Where a skin of even thickness balances: as measured on its model or known of its shape, else estimated.

    Parameters
    ----------
    form : Form

    Returns
    -------
    tuple of float
        To the right and to the back of the middle, and above the foot [m]; the sum over the triangles of a model,
        closed form for a prism. Otherwise the height is ``shell_height_m``, and level it is the middle of what the form
        encloses, which for a form alike on both sides is exact.
    """
    if form.shell_centre_m is not None:
        return form.shell_centre_m
    x_m, y_m, _ = form.centre_of_mass_m or (0.0, 0.0, 0.0)
    return x_m, y_m, shell_height_m(form)


@dataclass(frozen=True, slots=True)
class Strip:
    """Skin between two cuts of a form, or in one of its flat ends, where both cuts are the same.

    Attributes
    ----------
    area_m2, height_m : float
        Its skin [m^2], and the height of its centre above the foot [m].
    low, high : Station
    """

    area_m2: float
    height_m: float
    low: Station
    high: Station

    @property
    def is_end(self) -> bool:
        """Whether it lies flat."""
        return self.low is self.high


def skin_strips(form: Form) -> tuple[Strip, ...]:
    """The skin of a form in strips, from the cuts through it.

    Between two cuts the skin is that of a frustum whose rim is an ellipse (Ramanujan's second
    approximation of its length). Skin that the sides do not account for lies in the flat ends.

    Parameters
    ----------
    form : Form

    Returns
    -------
    tuple of Strip
        Closed form for round and rectangular tapers, an estimate for figures.
    """
    sides = tuple(_band(low, high) for low, high in zip(form.stations, form.stations[1:], strict=False))
    ends = [(end, math.pi / 4 * end.length_m * end.width_m) for end in (form.stations[0], form.stations[-1])]
    ends_m2 = math.fsum(area for _, area in ends)
    # As much of the ends as the skin has room for: an open foot has none of it.
    spare_m2 = form.area_m2 - math.fsum(strip.area_m2 for strip in sides)
    share = min(1.0, max(0.0, spare_m2) / ends_m2) if ends_m2 > 0 else 0.0
    return (*sides, *(Strip(share * area, end.z_m, end, end) for end, area in ends))


def shell_height_m(form: Form) -> float:
    """How high a skin of even thickness balances, from the cuts through its form.

    Parameters
    ----------
    form : Form

    Returns
    -------
    float
        Above the foot [m]; as near as ``skin_strips`` is.
    """
    strips = skin_strips(form)
    moment = math.fsum(strip.area_m2 * strip.height_m for strip in strips)
    return moment / math.fsum(strip.area_m2 for strip in strips)


def _band(low: Station, high: Station) -> Strip:
    rise = high.z_m - low.z_m
    rims = [_rim_m(low), _rim_m(high)]
    run = (abs(high.length_m - low.length_m) + abs(high.width_m - low.width_m)) / 4
    area = (rims[0] + rims[1]) / 2 * math.hypot(rise, run)
    if area <= 0:
        return Strip(0.0, low.z_m, low, high)
    return Strip(area, low.z_m + rise * (rims[0] + 2 * rims[1]) / (3 * (rims[0] + rims[1])), low, high)


def _rim_m(cut: Station) -> float:
    a, b = cut.length_m / 2, cut.width_m / 2
    if a + b <= 0:
        return 0.0
    h = ((a - b) / (a + b)) ** 2
    return math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
