"""Shapes with straight sides and flat ends: cylinder, frustum, box and prism."""

import math
from dataclasses import dataclass

from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form, Station
from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes import profiles
from materials.estimator.shapes.limits import LONGEST_M, SHORTEST_M, check_between, check_length
from materials.estimator.shapes.polygon import Polygon, centred, check_polygon, plan_figures, visible_corners


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A round column standing upright, closed at both ends.

    Attributes
    ----------
    diameter_m, height_m : float
        Diameter and height [m].
    """

    diameter_m: float
    height_m: float

    def __post_init__(self) -> None:
        check_length("diameter", self.diameter_m)
        check_length("height", self.height_m)

    def form(self) -> Form:
        """Area pi d h + pi d^2 / 2, volume pi d^2 h / 4.

        Returns
        -------
        Form
        """
        d, height = self.diameter_m, self.height_m
        end_m2 = math.pi * d**2 / 4
        return Form(
            area_m2=math.pi * d * height + 2 * end_m2,
            volume_m3=end_m2 * height,
            length_m=d,
            width_m=d,
            height_m=height,
            stations=(Station(0.0, d, d), Station(height, d, d)),
            centre_of_mass_m=(0.0, 0.0, height / 2),
            origin="cylinder, from its dimensions, both ends included",
            largest_flat_m2=end_m2,
        )

    def outline(self, view: ViewName) -> Outline:
        """A circle from above, a rectangle from the floor.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view == "plan":
            return Outline(view, (profiles.ellipse_outline(self.diameter_m / 2, self.diameter_m / 2, 0.0),))
        return Outline(view, (profiles.rectangle_outline(self.diameter_m, 0.0, self.height_m),))


@dataclass(frozen=True, slots=True)
class Frustum:
    """A cone cut level, or a whole cone where one diameter is 0; closed at both ends.

    Attributes
    ----------
    bottom_diameter_m, top_diameter_m, height_m : float
        Diameters at foot and top, and height [m].
    """

    bottom_diameter_m: float
    top_diameter_m: float
    height_m: float

    def __post_init__(self) -> None:
        check_between("bottom diameter", self.bottom_diameter_m, "m", 0.0, LONGEST_M)
        check_between("top diameter", self.top_diameter_m, "m", 0.0, LONGEST_M)
        check_length("height", self.height_m)
        if max(self.bottom_diameter_m, self.top_diameter_m) < SHORTEST_M:
            raise EstimatorError(
                "bottom diameter",
                self.bottom_diameter_m,
                f"bottom diameter is {self.bottom_diameter_m:g} m and top diameter {self.top_diameter_m:g} m; "
                f"the larger must be at least {SHORTEST_M:g} m.",
            )

    def form(self) -> Form:
        """Area pi (r1 + r2) s + pi (r1^2 + r2^2) with slant height s, volume pi h (r1^2 + r1 r2 + r2^2) / 3.

        Returns
        -------
        Form
        """
        foot, top, height = self.bottom_diameter_m / 2, self.top_diameter_m / 2, self.height_m
        squares = foot**2 + foot * top + top**2
        widest = 2 * max(foot, top)
        return Form(
            area_m2=math.pi * ((foot + top) * math.hypot(height, foot - top) + foot**2 + top**2),
            volume_m3=math.pi * height * squares / 3,
            length_m=widest,
            width_m=widest,
            height_m=height,
            stations=(Station(0.0, 2 * foot, 2 * foot), Station(height, 2 * top, 2 * top)),
            centre_of_mass_m=(0.0, 0.0, height / 4 * (foot**2 + 2 * foot * top + 3 * top**2) / squares),
            origin="frustum, from its dimensions, both ends included",
            largest_flat_m2=math.pi * widest**2 / 4,
        )

    def outline(self, view: ViewName) -> Outline:
        """A circle from above, with the rim of a smaller top inside it; a trapezium from the floor.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        foot, top = self.bottom_diameter_m / 2, self.top_diameter_m / 2
        if view != "plan":
            return Outline(view, (((-foot, 0.0), (foot, 0.0), (top, self.height_m), (-top, self.height_m)),))
        widest = max(foot, top)
        silhouette = (profiles.ellipse_outline(widest, widest, 0.0),)
        if not 0 < top < foot:
            return Outline(view, silhouette)
        rim = profiles.ellipse_outline(top, top, 0.0)
        return Outline(view, silhouette, edges=((*rim, rim[0]),))


@dataclass(frozen=True, slots=True)
class Box:
    """A block, all six faces moulded.

    Attributes
    ----------
    length_m, width_m, height_m : float
        Sides along x, y and z [m].
    """

    length_m: float
    width_m: float
    height_m: float

    def __post_init__(self) -> None:
        check_length("length", self.length_m)
        check_length("width", self.width_m)
        check_length("height", self.height_m)

    def form(self) -> Form:
        """Area 2 (l w + l h + w h), volume l w h.

        Returns
        -------
        Form
        """
        length, width, height = self.length_m, self.width_m, self.height_m
        faces = (length * width, length * height, width * height)
        return Form(
            area_m2=2 * sum(faces),
            volume_m3=length * width * height,
            length_m=length,
            width_m=width,
            height_m=height,
            stations=(Station(0.0, length, width), Station(height, length, width)),
            centre_of_mass_m=(0.0, 0.0, height / 2),
            origin="box, from its dimensions, all six faces",
            largest_flat_m2=max(faces),
        )

    def outline(self, view: ViewName) -> Outline:
        """A rectangle in every view.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        if view == "plan":
            half = self.width_m / 2
            return Outline(view, (profiles.rectangle_outline(self.length_m, -half, half),))
        across = self.length_m if view == "front" else self.width_m
        return Outline(view, (profiles.rectangle_outline(across, 0.0, self.height_m),))


@dataclass(frozen=True, slots=True)
class Prism:
    """A plan of straight sides carried straight up, closed at both ends.

    Attributes
    ----------
    polygon : tuple of (float, float)
        Corners of the plan in order, either way round, each once [m].
    height_m : float
        Height [m].
    """

    polygon: Polygon
    height_m: float

    def __post_init__(self) -> None:
        check_polygon(self.polygon)
        check_length("height", self.height_m)

    def form(self) -> Form:
        """Area of both ends and of the sides, perimeter times height; volume plan area times height.

        The skin balances where its ends, at the centre of the plan, and its sides, at that of the line round it, do.

        Returns
        -------
        Form
        """
        plan, height = plan_figures(self.polygon), self.height_m
        along, across = plan.centroid_m
        ends_m2, sides_m2 = 2 * plan.area_m2, plan.perimeter_m * height
        skin_along, skin_across = (
            (ends_m2 * end + sides_m2 * side) / (ends_m2 + sides_m2)
            for end, side in zip(plan.centroid_m, plan.rim_centre_m, strict=True)
        )
        return Form(
            area_m2=ends_m2 + sides_m2,
            volume_m3=plan.area_m2 * height,
            length_m=plan.length_m,
            width_m=plan.width_m,
            height_m=height,
            stations=(Station(0.0, plan.length_m, plan.width_m), Station(height, plan.length_m, plan.width_m)),
            centre_of_mass_m=(along, across, height / 2),
            origin="prism, from its dimensions, both ends included",
            largest_flat_m2=max(plan.area_m2, plan.longest_side_m * height),
            shell_centre_m=(skin_along, skin_across, height / 2),
        )

    def outline(self, view: ViewName) -> Outline:
        """The plan from above; a rectangle from the floor, with the upright edges that show.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        corners = centred(self.polygon)
        if view == "plan":
            return Outline(view, (corners,))
        # Turned a quarter, the corners lie as the side view sees them: y across, x towards the viewer.
        seen = corners if view == "front" else tuple((y, -x) for x, y in corners)
        width = 2 * max(x for x, _ in seen)
        edges = tuple(((x, 0.0), (x, self.height_m)) for x in visible_corners(seen))
        return Outline(view, (profiles.rectangle_outline(width, 0.0, self.height_m),), edges)
