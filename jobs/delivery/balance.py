"""Where a load balances: the centre of mass of a shell, and of several parts together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from materials.estimator.errors import Missing
from materials.estimator.form import Form, Station
from materials.estimator.lines import Term
from materials.estimator.ranges import within
from materials.estimator.reckoned import Reckoned


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
        moving = [(part.mass, place) for part, place in zip(real, places, strict=True) if place.value]
        if not moving:
            return Reckoned(name, 0.0, "m", "every part stands in the middle", ())
        if len(real) == 1:
            return Reckoned(name, places[0].value, "m", places[0].label, (places[0],))
        moment = math.fsum(one.value * place.value for one, place in moving)
        words = " + ".join(f"{one.label} × {place.label}" for one, place in moving)
        terms = tuple(term for pair in moving for term in pair)
        return Reckoned(name, moment / total_kg, "m", f"({words}) ÷ {mass.name}", (*terms, mass.term))

    return Balance(
        mass,
        centre("balance point above the foot", [part.height for part in real]),
        centre("balance point right of the middle", [part.aside for part in real]),
        centre("balance point behind the middle", [part.behind for part in real]),
    )


def shell_centre_m(form: Form) -> tuple[float, float, float]:
    """Where a skin of even thickness balances: as measured on its model, else estimated.

    Parameters
    ----------
    form : Form

    Returns
    -------
    tuple of float
        To the right and to the back of the middle, and above the foot [m]; the sum over the triangles of a model.
        Otherwise the height is ``shell_height_m``, and level it is the middle of what the form encloses: common
        practice, no source.
    """
    if form.shell_centre_m is not None:
        return form.shell_centre_m
    x_m, y_m, _ = form.centre_of_mass_m or (0.0, 0.0, 0.0)
    return x_m, y_m, shell_height_m(form)


def shell_height_m(form: Form) -> float:
    """How high a skin of even thickness balances, from the cuts through its form.

    Between two cuts the skin is that of a frustum whose rim is an ellipse (Ramanujan's second
    approximation of its length). Skin that the sides do not account for lies in the flat ends.

    Parameters
    ----------
    form : Form

    Returns
    -------
    float
        Above the foot [m]; closed form for round and rectangular tapers, an estimate for figures.
    """
    bands = [_band(low, high) for low, high in zip(form.stations, form.stations[1:], strict=False)]
    sides_m2 = math.fsum(area for area, _ in bands)
    moment = math.fsum(area * height for area, height in bands)
    foot, top = form.stations[0], form.stations[-1]
    ends = [(math.pi / 4 * end.length_m * end.width_m, end.z_m) for end in (foot, top)]
    ends_m2 = math.fsum(area for area, _ in ends)
    # As much of the ends as the skin has room for: an open foot has none of it.
    share = min(1.0, max(0.0, form.area_m2 - sides_m2) / ends_m2) if ends_m2 > 0 else 0.0
    return (moment + share * math.fsum(area * height for area, height in ends)) / (sides_m2 + share * ends_m2)


def _band(low: Station, high: Station) -> tuple[float, float]:
    """Skin between two cuts [m^2], and the height of its centre [m]."""
    rise = high.z_m - low.z_m
    rims = [_rim_m(low), _rim_m(high)]
    run = (abs(high.length_m - low.length_m) + abs(high.width_m - low.width_m)) / 4
    area = (rims[0] + rims[1]) / 2 * math.hypot(rise, run)
    if area <= 0:
        return 0.0, low.z_m
    return area, low.z_m + rise * (rims[0] + 2 * rims[1]) / (3 * (rims[0] + rims[1]))


def _rim_m(cut: Station) -> float:
    a, b = cut.length_m / 2, cut.width_m / 2
    if a + b <= 0:
        return 0.0
    h = ((a - b) / (a + b)) ** 2
    return math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
