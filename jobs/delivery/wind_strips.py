"""A shadow in strips, each with the pressure at its own top.

EN 1991-1-4 7.2.2 and Figure 7.4, from memory: what is no higher than it is wide
is taken as one, with the pressure at its top; what is higher in strips. The code
has it for upright walls. It is on the safe side: the wind grows with the height,
so that no strip is pressed less than it would be at its middle. What is very thin
is parted as if it were wider, which is on the safe side again.
"""

from collections.abc import Callable
from itertools import pairwise

from jobs.delivery.shadow import Shadow
from jobs.delivery.wind import Push
from materials.estimator.lines import Term
from materials.estimator.ranges import rounded_up, within

CODE = "EN 1991-1-4 7.2.2 (from memory)"

# So much of the height a strip is at least, however thin a piece: ten strips say all that there is to say.
_LEAST_SHARE = 0.1
# Less than this of a shadow is rounding at the edge of a strip.
_LEAST_M2 = 1e-5


def strip_tops_m(height_m: float, breadth_m: float) -> tuple[float, ...]:
    """Where the strips of an upright face end, from the ground up.

    Parameters
    ----------
    height_m, breadth_m : float
        Of its top above the ground, and across the wind [m].

    Returns
    -------
    tuple of float
        Up to its breadth the whole; up to twice its breadth two parts, the lower as high as it is wide; beyond that as
        much again at the top, and between them strips no higher than it is wide; a tenth of its height counts as its
        breadth where it is thinner [m].

    Raises
    ------
    OutOfRange
        For a height or a breadth that is none.
    """
    within("Height of its top", height_m, "m", 1e-3, 200)
    within("Breadth across the wind", breadth_m, "m", 1e-3, 1000)
    strip_m = max(breadth_m, _LEAST_SHARE * height_m)
    if height_m <= strip_m:
        return (height_m,)
    if height_m <= 2 * strip_m:
        return strip_m, height_m
    between_m = height_m - 2 * strip_m
    count = rounded_up(between_m / strip_m)
    return (*(strip_m + between_m * part / count for part in range(count + 1)), height_m)


def pushes_on(seen: Shadow, side: str, stands_m: float, pressure_at: Callable[[float], Term]) -> tuple[Push, ...]:
    """The strips of a shadow, each pressed as its top is.

    Parameters
    ----------
    seen : Shadow
    side : str
        "front" or "side".
    stands_m : float
        Height of its foot above the ground [m].
    pressure_at : callable
        The pressure at a height above the ground [m] as a term [Pa].

    Returns
    -------
    tuple of Push
        From the foot up; strips that are pressed alike are one, and one without shadow is left out.
    """
    top_m, found, low_m = seen.top_m + stands_m, [], 0.0
    pressed = [(height_m, pressure_at(height_m)) for height_m in strip_tops_m(top_m, seen.breadth_m)]
    # Below the least height of a terrain strips are pressed alike, and are one.
    parting = [one for one, above in pairwise(pressed) if one[1].value < above[1].value]
    for height_m, pressure in (*parting, pressed[-1]):
        area_m2, middle_m = seen.between(low_m - stands_m, height_m - stands_m)
        if area_m2 > _LEAST_M2:
            where = f"from the {side}" + (f" up to {height_m:.2f} m" if parting else "")
            area = Term(f"shadow {where}", area_m2, "m^2", "outlines; what hides another is counted once")
            middle = Term(f"middle of the shadow {where}, above the foot", middle_m, "m", "outlines")
            found.append(Push(area, middle, pressure))
        low_m = height_m
    return tuple(found)
