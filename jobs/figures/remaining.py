"""How many hours a stage still takes: by its norm at first, then more and more by what was booked.

Steps done say how far it is; each counts alike, as in a standing. A step that
is worked on counts as the hours say, but for no more than half, until it is
marked done. Where several casts are taken, steps are those of one cast, and
the hours alone say how many are through. What was booked on the part that is
done corrects the rest in proportion to that part: after one step in five by a
fifth; where nothing was booked, the norm stands. Common practice, no source.
"""

from jobs.figures.threepoint import ThreePoint
from materials.estimator.ranges import whole, within

IN_HAND = 0.5
"""The most that a step counts for before it is done."""


def share_done(allowed_h: float, booked_h: float, steps: int, done: int, casts: int = 1) -> float:
    """How much of a stage is done.

    Parameters
    ----------
    allowed_h, booked_h : float
        [h]
    steps, done : int
        Of one cast, where there are several [each].
    casts : int
        [each]

    Returns
    -------
    float
        From 0 to 1 [dimensionless].

    Notes
    -----
    Steps that count alike are common practice, no source.
    """
    whole("steps", steps, "steps", 0, 1000)
    whole("steps done", done, "steps", 0, steps)
    if steps == done:
        return 1.0
    by_steps = done / steps
    by_hours = booked_h / allowed_h if allowed_h else 0.0
    if casts > 1:
        return min(by_hours, 1 - IN_HAND / casts)
    return min(max(by_steps, by_hours), (done + IN_HAND) / steps)


def remaining(allowed: ThreePoint, booked_h: float, share: float) -> ThreePoint:
    """What a stage still takes.

    Parameters
    ----------
    allowed : ThreePoint
        All of it by the norms, the likely figure as budgeted [h].
    booked_h : float
        On the part that is done [h].
    share : float
        That part, from 0 to 1 [dimensionless].

    Returns
    -------
    ThreePoint
        Of the part that is not done [h].

    Notes
    -----
    The rest by the norm times 1 + share x (booked / (share x allowed) - 1), which is 1 - share + booked / allowed.
    """
    within("hours booked", booked_h, "h", 0.0, None)
    within("share done", share, "", 0.0, 1.0)
    if not booked_h or not allowed.likely:
        return allowed.share(1 - share)
    return allowed.share((1 - share) * (1 - share + booked_h / allowed.likely))


def casts_left(casts: int, allowed_h: float, booked_h: float) -> int:
    """How many casts are still to be taken, the one in hand included, while steps of the stage are open.

    Parameters
    ----------
    casts : int
        In all [each].
    allowed_h, booked_h : float
        For all of them [h].

    Returns
    -------
    int
        At least one [each].
    """
    whole("casts", casts, "casts", 1, 100_000)
    through = int(casts * min(1.0, booked_h / allowed_h)) if allowed_h else 0
    return max(1, casts - through)
