"""A section whose skin was measured on the maquette or pattern, with no formula behind it."""

from dataclasses import dataclass

from materials.estimator.errors import EstimatorError
from materials.estimator.form import Form, Station
from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes import profiles
from materials.estimator.shapes.limits import LONGEST_M, SHORTEST_M, check_between, check_length


@dataclass(frozen=True, slots=True)
class Measured:
    """Area, volume and extents as entered.

    Attributes
    ----------
    area_m2 : float
        Skin to be moulded [m^2].
    volume_m3 : float or None
        Enclosed volume [m^3]; None where it is not known.
    length_m, width_m, height_m : float
        Extents along x, y and z [m].
    """

    area_m2: float
    volume_m3: float | None
    length_m: float
    width_m: float
    height_m: float

    def __post_init__(self) -> None:
        check_between("area", self.area_m2, "m^2", SHORTEST_M**2, LONGEST_M**2)
        check_length("length", self.length_m)
        check_length("width", self.width_m)
        check_length("height", self.height_m)
        if self.volume_m3 is None:
            return
        check_between("volume", self.volume_m3, "m^3", SHORTEST_M**3, LONGEST_M**3)
        around_m3 = self.length_m * self.width_m * self.height_m
        # A block measured as itself may differ in the last digit.
        if self.volume_m3 > around_m3 * (1 + 1e-9):
            raise EstimatorError(
                "volume",
                self.volume_m3,
                f"volume is {self.volume_m3:g} m^3, but the box round the section holds {around_m3:g} m^3; "
                "check the volume and the extents.",
            )

    def form(self) -> Form:
        """Figures as entered; the extents are taken to hold over the whole height, the balance is not known.

        Returns
        -------
        Form
        """
        return Form(
            area_m2=self.area_m2,
            volume_m3=self.volume_m3,
            length_m=self.length_m,
            width_m=self.width_m,
            height_m=self.height_m,
            stations=(
                Station(0.0, self.length_m, self.width_m),
                Station(self.height_m, self.length_m, self.width_m),
            ),
            centre_of_mass_m=None,
            origin="measured, as entered",
        )

    def outline(self, view: ViewName) -> Outline:
        """The rectangle of the extents, which its note says.

        Parameters
        ----------
        view : str
            "front", "side" or "plan".

        Returns
        -------
        Outline
        """
        note = "extents only"
        if view == "plan":
            half = self.width_m / 2
            return Outline(view, (profiles.rectangle_outline(self.length_m, -half, half),), note=note)
        across = self.length_m if view == "front" else self.width_m
        return Outline(view, (profiles.rectangle_outline(across, 0.0, self.height_m),), note=note)
