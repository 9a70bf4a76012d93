"""Shapes curved all over: sphere, ellipsoid, superellipsoid, torus and cap."""

import math
from dataclasses import dataclass

from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form
from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes import profiles
from materials.estimator.shapes.elliptic import ellipsoid_area_m2
from materials.estimator.shapes.limits import check_length
from materials.estimator.shapes.superellipse import check_exponent, superellipsoid_area_m2, superellipsoid_volume_m3


@dataclass(frozen=True, slots=True)
class Sphere:
    """A ball.

    Attributes
    ----------
    diameter_m : float
        Diameter [m].
    """

    diameter_m: float

    def __post_init__(self) -> None:
        check_length("diameter", self.diameter_m)

    def form(self) -> Form:
        """Area pi d^2, volume pi d^3 / 6.

        Returns
        -------
        Form
        """
        d, radius = self.diameter_m, self.diameter_m / 2
        return Form(
            area_m2=math.pi * d**2,
            volume_m3=math.pi * d**3 / 6,
            length_m=d,
            width_m=d,
            height_m=d,
            stations=profiles.rounded_stations(radius, radius, radius),
            centre_of_mass_m=(0.0, 0.0, radius),
            origin="sphere, from its dimensions",
        )

    def outline(self, view: ViewName) -> Outline:
        """A circle in every view.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        radius = self.diameter_m / 2
        return Outline(view, (profiles.ellipse_outline(radius, radius, 0.0 if view == "plan" else radius),))


@dataclass(frozen=True, slots=True)
class Ellipsoid:
    """An ellipsoid standing upright.

    Attributes
    ----------
    a_m, b_m, c_m : float
        Semi-axes along x, y and z [m].
    """

    a_m: float
    b_m: float
    c_m: float

    def __post_init__(self) -> None:
        check_length("half length a", self.a_m)
        check_length("half width b", self.b_m)
        check_length("half height c", self.c_m)

    def form(self) -> Form:
        """Area by elliptic integrals, volume 4/3 pi a b c.

        Returns
        -------
        Form
        """
        return Form(
            area_m2=ellipsoid_area_m2(self.a_m, self.b_m, self.c_m),
            volume_m3=4 / 3 * math.pi * self.a_m * self.b_m * self.c_m,
            length_m=2 * self.a_m,
            width_m=2 * self.b_m,
            height_m=2 * self.c_m,
            stations=profiles.rounded_stations(self.a_m, self.b_m, self.c_m),
            centre_of_mass_m=(0.0, 0.0, self.c_m),
            origin="ellipsoid, from its dimensions",
        )

    def outline(self, view: ViewName) -> Outline:
        """An ellipse in every view.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view == "plan":
            return Outline(view, (profiles.ellipse_outline(self.a_m, self.b_m, 0.0),))
        across = self.a_m if view == "front" else self.b_m
        return Outline(view, (profiles.ellipse_outline(across, self.c_m, self.c_m),))


@dataclass(frozen=True, slots=True)
class Superellipsoid:
    """An ellipsoid squared off or drawn to edges.

    Attributes
    ----------
    a_m, b_m, c_m : float
        Semi-axes along x, y and z [m].
    e1, e2 : float
        Exponents of the upright profile and of the plan: 1 an ellipse, 0.1 nearly a
        box, 2 a diamond [dimensionless].
    """

    a_m: float
    b_m: float
    c_m: float
    e1: float
    e2: float

    def __post_init__(self) -> None:
        check_length("half length a", self.a_m)
        check_length("half width b", self.b_m)
        check_length("half height c", self.c_m)
        check_exponent("upright exponent e1", self.e1)
        check_exponent("plan exponent e2", self.e2)

    def form(self) -> Form:
        """Area by numerical integration, volume by beta functions.

        Returns
        -------
        Form
        """
        axes = (self.a_m, self.b_m, self.c_m)
        return Form(
            area_m2=superellipsoid_area_m2(*axes, self.e1, self.e2),
            volume_m3=superellipsoid_volume_m3(*axes, self.e1, self.e2),
            length_m=2 * self.a_m,
            width_m=2 * self.b_m,
            height_m=2 * self.c_m,
            stations=profiles.rounded_stations(*axes, self.e1),
            centre_of_mass_m=(0.0, 0.0, self.c_m),
            origin="superellipsoid, from its dimensions",
        )

    def outline(self, view: ViewName) -> Outline:
        """A superellipse in every view.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view == "plan":
            return Outline(view, (profiles.ellipse_outline(self.a_m, self.b_m, 0.0, self.e2),))
        across = self.a_m if view == "front" else self.b_m
        return Outline(view, (profiles.ellipse_outline(across, self.c_m, self.c_m, self.e1),))


@dataclass(frozen=True, slots=True)
class Torus:
    """A round ring lying flat.

    Attributes
    ----------
    ring_diameter_m : float
        Diameter of the ring, measured to the middle of the tube [m].
    tube_diameter_m : float
        Diameter of the tube [m].
    """

    ring_diameter_m: float
    tube_diameter_m: float

    def __post_init__(self) -> None:
        check_length("ring diameter", self.ring_diameter_m)
        check_length("tube diameter", self.tube_diameter_m)
        if self.tube_diameter_m >= self.ring_diameter_m:
            raise EstimatorError(
                "tube diameter",
                self.tube_diameter_m,
                f"tube diameter is {self.tube_diameter_m:g} m on a ring of {self.ring_diameter_m:g} m; it must be "
                "less than the ring diameter, which is measured to the middle of the tube.",
            )

    def form(self) -> Form:
        """Area pi^2 D d, volume pi^2 D d^2 / 4.

        Returns
        -------
        Form
        """
        ring, tube = self.ring_diameter_m, self.tube_diameter_m
        return Form(
            area_m2=math.pi**2 * ring * tube,
            volume_m3=math.pi**2 * ring * tube**2 / 4,
            length_m=ring + tube,
            width_m=ring + tube,
            height_m=tube,
            stations=profiles.ring_stations(ring, tube),
            centre_of_mass_m=(0.0, 0.0, tube / 2),
            origin="torus, from its dimensions",
        )

    def outline(self, view: ViewName) -> Outline:
        """Two circles from above, a rounded bar from the floor.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        ring, tube = self.ring_diameter_m, self.tube_diameter_m
        if view != "plan":
            return Outline(view, (profiles.stadium_outline(ring, tube),))
        outer, inner = (ring + tube) / 2, (ring - tube) / 2
        return Outline(view, (profiles.ellipse_outline(outer, outer, 0.0), profiles.ellipse_outline(inner, inner, 0.0)))


@dataclass(frozen=True, slots=True)
class Cap:
    """What a level cut takes off a sphere, its flat downwards; the flat is where it joins and is no skin.

    Attributes
    ----------
    sphere_diameter_m : float
        Diameter of the sphere [m].
    height_m : float
        Height of the cap [m].
    """

    sphere_diameter_m: float
    height_m: float

    def __post_init__(self) -> None:
        check_length("sphere diameter", self.sphere_diameter_m)
        check_length("height", self.height_m)
        if self.height_m > self.sphere_diameter_m:
            raise EstimatorError(
                "height",
                self.height_m,
                f"height is {self.height_m:g} m on a sphere of {self.sphere_diameter_m:g} m; it must be at most "
                "the sphere diameter.",
            )

    def form(self) -> Form:
        """Area 2 pi R h of the curved skin alone, volume pi h^2 (3 R - h) / 3.

        Returns
        -------
        Form
        """
        radius, height = self.sphere_diameter_m / 2, self.height_m
        across = 2 * radius if height >= radius else 2 * math.sqrt(height * (2 * radius - height))
        from_centre = 3 * (2 * radius - height) ** 2 / (4 * (3 * radius - height))
        return Form(
            area_m2=2 * math.pi * radius * height,
            volume_m3=math.pi * height**2 * (3 * radius - height) / 3,
            length_m=across,
            width_m=across,
            height_m=height,
            stations=profiles.cap_stations(self.sphere_diameter_m, height),
            centre_of_mass_m=(0.0, 0.0, from_centre + height - radius),
            origin="cap of a sphere, from its dimensions, curved skin only",
        )

    def outline(self, view: ViewName) -> Outline:
        """A circle from above, an arc on its chord from the floor.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view != "plan":
            return Outline(view, (profiles.cap_outline(self.sphere_diameter_m, self.height_m),))
        half = self.form().length_m / 2
        return Outline(view, (profiles.ellipse_outline(half, half, 0.0),))
