"""A form turned about its upright axis: a pear, a lamp, a vase, drawn as half-widths at heights."""

import math
from dataclasses import dataclass
from itertools import pairwise

from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form, Station
from materials.estimator.outline import Outline, Point, ViewName
from materials.estimator.shapes import profiles
from materials.estimator.shapes.limits import LONGEST_M, SHORTEST_M, check_between, check_length

Profile = tuple[Point, ...]

MOST_POINTS = 200


@dataclass(frozen=True, slots=True)
class Turned:
    """The side of a turned form; its ends are open, for they are where it joins its neighbours.

    Attributes
    ----------
    profile : tuple of (float, float)
        Radius and height of each point, from the foot up, straight between points [m].
    """

    profile: Profile

    def __post_init__(self) -> None:
        if not 2 <= len(self.profile) <= MOST_POINTS:
            raise self._bad(f"has {len(self.profile)} points; it must have between 2 and {MOST_POINTS}.")
        for number, (radius, height) in enumerate(self.profile, start=1):
            check_between(f"radius of point {number}", radius, "m", 0.0, LONGEST_M)
            check_between(f"height of point {number}", height, "m", -LONGEST_M, LONGEST_M)
        for number, (below, above) in enumerate(pairwise(self.profile), start=2):
            if above[1] < below[1]:
                raise self._bad(f"goes down at point {number}; give the points from the foot up.")
            if above == below:
                raise self._bad(f"has points {number - 1} and {number} in one place; give each once.")
        check_length("height", self._height_m)
        check_between("widest radius", self._widest_m, "m", SHORTEST_M / 2, LONGEST_M)
        if not any(above[1] > below[1] and below[0] + above[0] > 0 for below, above in pairwise(self.profile)):
            raise self._bad("encloses nothing; its side must rise somewhere away from the axis.")

    def _bad(self, what: str) -> EstimatorError:
        return EstimatorError("profile", self.profile, f"the profile {what}")

    @property
    def _height_m(self) -> float:
        return self.profile[-1][1] - self.profile[0][1]

    @property
    def _widest_m(self) -> float:
        return max(radius for radius, _ in self.profile)

    def form(self) -> Form:
        """Sums of open frustums: area pi (r1 + r2) s with slant height s, volume pi h (r1^2 + r1 r2 + r2^2) / 3.

        Returns
        -------
        Form
        """
        foot = self.profile[0][1]
        area = volume = moment = ledge = 0.0
        at: dict[float, float] = {}
        for (r1, z1), (r2, z2) in pairwise(self.profile):
            height, squares = z2 - z1, r1**2 + r1 * r2 + r2**2
            slice_m3 = math.pi * height * squares / 3
            area += math.pi * (r1 + r2) * math.hypot(height, r1 - r2)
            volume += slice_m3
            if height == 0:
                ledge = max(ledge, math.pi * abs(r1**2 - r2**2))
            elif squares:
                moment += slice_m3 * (z1 - foot + height / 4 * (r1**2 + 2 * r1 * r2 + 3 * r2**2) / squares)
        for radius, z in self.profile:
            at[z - foot] = max(at.get(z - foot, 0.0), 2 * radius)
        widest = 2 * self._widest_m
        return Form(
            area_m2=area,
            volume_m3=volume,
            length_m=widest,
            width_m=widest,
            height_m=self._height_m,
            stations=tuple(Station(z, across, across) for z, across in at.items()),
            centre_of_mass_m=(0.0, 0.0, moment / volume),
            origin="turned form, from its profile, ends open",
            largest_flat_m2=ledge,
        )

    def outline(self, view: ViewName) -> Outline:
        """The profile and its mirror image from the floor; a circle from above, with the rim of a smaller top in it.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        foot, top = self.profile[0][1], self.profile[-1][0]
        if view != "plan":
            right = tuple((radius, z - foot) for radius, z in self.profile)
            left = tuple((-radius, z) for radius, z in reversed(right) if radius > 0)
            return Outline(view, ((*right, *left),))
        silhouette = (profiles.ellipse_outline(self._widest_m, self._widest_m, 0.0),)
        if not 0 < top < self._widest_m:
            return Outline(view, silhouette)
        rim = profiles.ellipse_outline(top, top, 0.0)
        return Outline(view, silhouette, edges=((*rim, rim[0]),))
