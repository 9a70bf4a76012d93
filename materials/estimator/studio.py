"""The figures of one studio: what a job is worked by where it says nothing itself."""

from collections.abc import Mapping
from dataclasses import dataclass

from materials.estimator.errors import Missing
from materials.estimator.spec import Allowances, Block, Coat, Coefficient, LayUp, Norm


@dataclass(frozen=True, slots=True)
class StudioFigures:
    """Coefficients, norms, lay-ups and paint systems of a studio.

    Attributes
    ----------
    coefficients : mapping of str to Coefficient
        By key; every key of ``reference.COEFFICIENTS``.
    norms : tuple of Norm
    layups : mapping of str to LayUp
        By name.
    paint_systems : mapping of str to tuple of Coat
        By name.
    mould_layup, cast_layup : str
        Names of the lay-ups used where a job names none.
    system_by_grade : mapping of str to str
        Name of the paint system used for a grade where a job names none.
    """

    coefficients: Mapping[str, Coefficient]
    norms: tuple[Norm, ...]
    layups: Mapping[str, LayUp]
    paint_systems: Mapping[str, tuple[Coat, ...]]
    mould_layup: str
    cast_layup: str
    system_by_grade: Mapping[str, str]

    def value(self, key: str) -> float:
        """One coefficient's value.

        Parameters
        ----------
        key : str
            A key of ``reference.COEFFICIENTS``.

        Returns
        -------
        float
            In the coefficient's own unit.

        Raises
        ------
        Missing
            When the studio has no such figure.
        """
        if key not in self.coefficients:
            raise Missing(f"Studio figure {key}", "restore it among the studio's figures.")
        return self.coefficients[key].value

    @property
    def allowances(self) -> Allowances:
        """The studio's allowances [dimensionless]."""
        return Allowances(
            gel_coat=self.value("allowance_gel_coat"),
            glass=self.value("allowance_glass"),
            overlap=self.value("allowance_overlap"),
            resin=self.value("allowance_resin"),
        )

    @property
    def block(self) -> Block:
        """The studio's stock block of foam [m]."""
        return Block(self.value("block_length"), self.value("block_width"), self.value("block_thickness"))
