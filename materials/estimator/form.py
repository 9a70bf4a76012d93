"""The form of one section: the only geometry that the estimator reads.

A form comes from dimensions (``shapes``) or from a mesh (``materials.mesh``);
after that nothing asks where it came from.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Station:
    """Extents of the horizontal cut through a form at one height.

    Attributes
    ----------
    z_m : float
        Height above the form's foot [m].
    length_m, width_m : float
        Extents of the cut along x and y [m]; 0 where it is a point.
    """

    z_m: float
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Form:
    """Area, volume, extents and balance of one section.

    Attributes
    ----------
    area_m2 : float
        Skin area that is moulded and cast [m^2]; cut faces and open ends are not in it.
    volume_m3 : float or None
        Enclosed volume [m^3]; None where the form is open and has none.
    length_m, width_m, height_m : float
        Extents along x, y and z as it stands [m].
    stations : tuple of Station
        Cuts from foot to top, ascending in z, first at 0 and last at ``height_m``;
        between two stations the extents are taken as linear.
    centre_of_mass_m : tuple of float or None
        Centre of the enclosed volume (x, y, z) [m], x and y from the middle of the
        extents, z from the foot; None where it is not known.
    seam_m : float or None
        Measured length of the seams within the section [m]; None where it has to be
        entered or estimated.
    origin : str
        Where the figures come from, as a working shows it ("sphere, from its
        dimensions", "measured", "model, 24 310 triangles").
    largest_flat_m2 : float
        Largest truly flat face within the skin [m^2]; 0 where there is none or it is not known.
    shell_centre_m : tuple of float or None
        Centre of the skin, placed as ``centre_of_mass_m`` is [m]; None where nothing but the cuts tells it.
    """

    area_m2: float
    volume_m3: float | None
    length_m: float
    width_m: float
    height_m: float
    stations: tuple[Station, ...]
    centre_of_mass_m: tuple[float, float, float] | None
    origin: str
    seam_m: float | None = None
    largest_flat_m2: float = 0.0
    shell_centre_m: tuple[float, float, float] | None = None
