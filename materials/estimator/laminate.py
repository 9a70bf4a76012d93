"""Laminates: what lies on a square metre of mould.

Glass is weighed dry [kg/m^2]; the glass fraction is glass mass over laminate
mass. Thickness is that of a laminate without voids, after the E-glass form of
ISO 12215-5 Annex C: its constants are those of fibre 2560 and resin 1200 kg/m^3.
"""

from dataclasses import dataclass
from functools import lru_cache

from materials.estimator.ranges import within
from materials.estimator.spec import Ply


def thickness_mm(
    glass_kg_m2: float, glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float
) -> float:
    """Thickness of a laminate: t = w [1/rho_f + (1 - psi)/(psi rho_m)].

    Parameters
    ----------
    glass_kg_m2 : float
        Dry glass w [kg/m^2].
    glass_fraction : float
        psi [dimensionless].
    glass_density_kg_m3, resin_density_kg_m3 : float
        rho_f, and rho_m of the cured resin [kg/m^3].

    Returns
    -------
    float
        [mm]

    Raises
    ------
    OutOfRange
        For a fraction outside 0.05 to 0.9, or a density or weight that is none.

    References
    ----------
    ISO 12215-5:2008 Annex C, Eq. C.1.
    """
    _check(glass_kg_m2, glass_fraction)
    _check_densities(glass_density_kg_m3, resin_density_kg_m3)
    glass_m = glass_kg_m2 / glass_density_kg_m3
    resin_m = glass_kg_m2 * (1 - glass_fraction) / (glass_fraction * resin_density_kg_m3)
    return 1000 * (glass_m + resin_m)


def resin_kg_m2(glass_kg_m2: float, glass_fraction: float) -> float:
    """Resin that wets out a weight of glass: w (1 - psi)/psi.

    Parameters
    ----------
    glass_kg_m2 : float
        Dry glass w [kg/m^2].
    glass_fraction : float
        psi [dimensionless].

    Returns
    -------
    float
        [kg/m^2]

    Raises
    ------
    OutOfRange
        For a fraction outside 0.05 to 0.9, or a weight below nothing.

    References
    ----------
    ISO 12215-5:2008 Annex C, definition of the glass content by mass.
    """
    _check(glass_kg_m2, glass_fraction)
    return glass_kg_m2 * (1 - glass_fraction) / glass_fraction


def laminate_kg_m2(glass_kg_m2: float, glass_fraction: float) -> float:
    """Glass and resin together: w/psi.

    Parameters
    ----------
    glass_kg_m2 : float
        Dry glass w [kg/m^2].
    glass_fraction : float
        psi [dimensionless].

    Returns
    -------
    float
        [kg/m^2]

    Raises
    ------
    OutOfRange
        For a fraction outside 0.05 to 0.9, or a weight below nothing.

    References
    ----------
    ISO 12215-5:2008 Annex C, definition of the glass content by mass.
    """
    _check(glass_kg_m2, glass_fraction)
    return glass_kg_m2 / glass_fraction


def laminate_density_kg_m3(glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float) -> float:
    """Density of a laminate without voids: 1/(psi/rho_f + (1 - psi)/rho_m).

    Parameters
    ----------
    glass_fraction : float
        psi [dimensionless].
    glass_density_kg_m3, resin_density_kg_m3 : float
        rho_f, and rho_m of the cured resin [kg/m^3].

    Returns
    -------
    float
        [kg/m^3]

    Raises
    ------
    OutOfRange
        For a fraction outside 0.05 to 0.9, or a density that is none.

    References
    ----------
    ASTM D2734, theoretical density.
    """
    _check(1.0, glass_fraction)
    _check_densities(glass_density_kg_m3, resin_density_kg_m3)
    return 1 / (glass_fraction / glass_density_kg_m3 + (1 - glass_fraction) / resin_density_kg_m3)


def fibre_volume_fraction(glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float) -> float:
    """Share of the volume that is glass: (psi/rho_f) rho_c.

    Parameters
    ----------
    glass_fraction : float
        psi [dimensionless].
    glass_density_kg_m3, resin_density_kg_m3 : float
        rho_f, and rho_m of the cured resin [kg/m^3].

    Returns
    -------
    float
        [dimensionless]; by definition.

    Raises
    ------
    OutOfRange
        For a fraction outside 0.05 to 0.9, or a density that is none.
    """
    density = laminate_density_kg_m3(glass_fraction, glass_density_kg_m3, resin_density_kg_m3)
    return glass_fraction / glass_density_kg_m3 * density


def void_share(theoretical_kg_m3: float, measured_kg_m3: float) -> float:
    """Share of the volume that is air: (Td - Md)/Td.

    Parameters
    ----------
    theoretical_kg_m3, measured_kg_m3 : float
        Density without voids, and as weighed [kg/m^3].

    Returns
    -------
    float
        [dimensionless]

    Raises
    ------
    OutOfRange
        For a density that is none, or a measured one above the theoretical.

    References
    ----------
    ASTM D2734, void content of reinforced plastics.
    """
    within("Density without voids", theoretical_kg_m3, "kg/m3", 1, 25_000)
    hint = "A laminate cannot be denser than its glass and resin; check the glass content."
    within("Measured density", measured_kg_m3, "kg/m3", 1, theoretical_kg_m3, hint)
    return (theoretical_kg_m3 - measured_kg_m3) / theoretical_kg_m3


def mat_and_roving_glass_fraction(mat_share: float, *, complex_surface: bool = False) -> float:
    """Usual glass fraction of mat and roving laid in turn: 0.46 - 0.18 R, or 0.35 - 0.11 R.

    Parameters
    ----------
    mat_share : float
        R, mass of mat over mass of all glass [dimensionless].
    complex_surface : bool
        Whether the surface is tightly curved or undercut.

    Returns
    -------
    float
        [dimensionless]

    Raises
    ------
    OutOfRange
        For a share outside 0 to 1.

    References
    ----------
    ISO 12215-5:2008 Annex C, Table C.2.
    """
    within("Share of mat in the glass", mat_share, "", 0, 1)
    return 0.35 - 0.11 * mat_share if complex_surface else 0.46 - 0.18 * mat_share


def gel_coat_kg_m2(wet_mm: float, density_kg_m3: float) -> float:
    """Gel coat in a wet film.

    Parameters
    ----------
    wet_mm : float
        Wet thickness [mm].
    density_kg_m3 : float
        Density of the gel coat [kg/m^3].

    Returns
    -------
    float
        [kg/m^2]; by definition of density.

    Raises
    ------
    OutOfRange
        For a thickness below nothing, or a density that is none.
    """
    within("Wet thickness of the gel coat", wet_mm, "mm", 0, 10)
    within("Density of the gel coat", density_kg_m3, "kg/m3", 100, 5000)
    return wet_mm * density_kg_m3 / 1000


def gel_coat_mm(gel_kg_m2: float, density_kg_m3: float) -> float:
    """Wet thickness of a weight of gel coat.

    Parameters
    ----------
    gel_kg_m2 : float
        Gel coat [kg/m^2].
    density_kg_m3 : float
        Density of the gel coat [kg/m^3].

    Returns
    -------
    float
        [mm]; by definition of density.

    Raises
    ------
    OutOfRange
        For a weight below nothing, or a density that is none.
    """
    within("Gel coat", gel_kg_m2, "kg/m2", 0, 10)
    within("Density of the gel coat", density_kg_m3, "kg/m3", 100, 5000)
    return 1000 * gel_kg_m2 / density_kg_m3


@dataclass(frozen=True, slots=True)
class Stack:
    """Plies together, without gel coat: glass, resin and laminate [kg/m^2], thickness [mm]."""

    glass_kg_m2: float
    resin_kg_m2: float
    laminate_kg_m2: float
    thickness_mm: float

    @property
    def glass_fraction(self) -> float:
        """Glass mass over laminate mass of the whole stack [dimensionless]."""
        return self.glass_kg_m2 / self.laminate_kg_m2


@lru_cache(maxsize=1024)
def stack_of(plies: tuple[Ply, ...], glass_density_kg_m3: float, resin_density_kg_m3: float) -> Stack:
    """Plies laid one upon another: weights and thicknesses add.

    Parameters
    ----------
    plies : tuple of Ply
    glass_density_kg_m3, resin_density_kg_m3 : float
        Densities of glass and of cured resin [kg/m^3].

    Returns
    -------
    Stack

    Raises
    ------
    OutOfRange
        For a density that is none.

    References
    ----------
    ISO 12215-5:2008 Annex C, C.3.2, averaging of a stack.
    """
    glass = resin = thickness = 0.0
    for ply in plies:
        weight = ply.layers * ply.weight_kg_m2
        glass += weight
        resin += resin_kg_m2(weight, ply.glass_fraction)
        thickness += thickness_mm(weight, ply.glass_fraction, glass_density_kg_m3, resin_density_kg_m3)
    return Stack(glass, resin, glass + resin, thickness)


def _check(glass_kg_m2: float, glass_fraction: float) -> None:
    within("Glass", glass_kg_m2, "kg/m2", 0, None)
    within("Glass fraction", glass_fraction, "", 0.05, 0.9, "It is a share of the mass, such as 0.30.")


def _check_densities(glass_density_kg_m3: float, resin_density_kg_m3: float) -> None:
    within("Density of the glass", glass_density_kg_m3, "kg/m3", 100, 25_000)
    within("Density of the cured resin", resin_density_kg_m3, "kg/m3", 100, 25_000)
