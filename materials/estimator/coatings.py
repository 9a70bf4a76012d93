"""Coatings: films by spreading rate, and fillers by depth.

Volume solids are a share of the mixed paint before thinning [dimensionless];
films are in micrometres [um]. The spreading rate is that of paint makers'
general information sheets; losses there are 10 to 15 % by brush and roller,
about 30 % airless and about 50 % by conventional spray gun.
"""

from collections.abc import Sequence

from materials.estimator.errors import Missing
from materials.estimator.ranges import whole, within


def spreading_rate_m2_l(volume_solids: float, dry_film_um: float) -> float:
    """Area that a litre covers if none is lost: 10 VS[%]/DFT.

    Parameters
    ----------
    volume_solids : float
        Share of the paint that stays as film [dimensionless].
    dry_film_um : float
        Dry film of one coat [um].

    Returns
    -------
    float
        [m^2/l]

    Raises
    ------
    OutOfRange
        For solids outside 0 to 1, or a film that is none.

    References
    ----------
    Paint makers' general information sheets: 65 % at 125 um is 5.2 m2/l.
    """
    _check_film(volume_solids, dry_film_um)
    return 1000 * volume_solids / dry_film_um


def paint_l(area_m2: float, coats: int, volume_solids: float, dry_film_um: float, loss: float) -> float:
    """Paint to be mixed: area × coats over the practical spreading rate.

    What is lost is a share of the paint mixed, so the theoretical litres are divided by what arrives.

    Parameters
    ----------
    area_m2 : float
        Painted area [m^2].
    coats : int
    volume_solids : float
        Share of the paint that stays as film [dimensionless].
    dry_film_um : float
        Dry film of one coat [um].
    loss : float
        Share of the paint that misses the work [dimensionless].

    Returns
    -------
    float
        [l]

    Raises
    ------
    OutOfRange
        For a value that is none, or a loss of all or nearly all.

    References
    ----------
    Paint makers' general information sheets, practical spreading rate.
    """
    within("Painted area", area_m2, "m2", 0, None)
    whole("Coats", coats, "", 1, 12)
    within("Application loss", loss, "", 0, 0.9, "It is a share of the paint, such as 0.50.")
    return area_m2 * coats / (spreading_rate_m2_l(volume_solids, dry_film_um) * (1 - loss))


def wet_film_um(dry_film_um: float, volume_solids: float, thinner: float = 0.0) -> float:
    """Wet film that dries to a film; thinner is sprayed too, and makes it thicker.

    Parameters
    ----------
    dry_film_um : float
        Dry film of one coat [um].
    volume_solids : float
        Share of the paint that stays as film, before thinning [dimensionless].
    thinner : float
        Volume of thinner to one of paint [dimensionless].

    Returns
    -------
    float
        [um]; by definition of volume solids.

    Raises
    ------
    OutOfRange
        For solids outside 0 to 1, a film that is none, or thinner beyond its own volume of paint.
    """
    _check_film(volume_solids, dry_film_um)
    within("Thinner to one of paint", thinner, "", 0, 1)
    return dry_film_um * (1 + thinner) / volume_solids


def mixed_parts_l(total_l: float, ratio: Sequence[float]) -> tuple[float, ...]:
    """Components of a paint mixed by volume.

    Parameters
    ----------
    total_l : float
        Mixed paint [l].
    ratio : sequence of float, shape (n,)
        Parts by volume, base first [dimensionless].

    Returns
    -------
    tuple of float, shape (n,)
        [l]; by definition of a ratio.

    Raises
    ------
    OutOfRange
        For a volume or part below nothing, or a base of nothing.
    Missing
        When the ratio is empty.
    """
    within("Mixed paint", total_l, "l", 0, None)
    if not ratio:
        raise Missing("Mixing ratio", "give the parts by volume, base first.")
    within("Part of base", ratio[0], "", 1e-6, None)
    for part in ratio:
        within("Part of the mixing ratio", part, "", 0, None)
    return tuple(total_l * part / sum(ratio) for part in ratio)


def fairing_l(area_m2: float, share: float, depth_mm: float, sanded: float) -> float:
    """Filler to be spread so that a mean depth stays on a share of the area.

    Parameters
    ----------
    area_m2 : float
        Skin area [m^2].
    share : float
        Share of it that is filled [dimensionless].
    depth_mm : float
        Mean depth that stays [mm].
    sanded : float
        Share of the filler that is sanded off [dimensionless].

    Returns
    -------
    float
        [l]; common practice, no source.

    Raises
    ------
    OutOfRange
        For a value below nothing, or a share beyond the whole.
    """
    within("Skin area", area_m2, "m2", 0, None)
    within("Filled share of the area", share, "", 0, 1)
    within("Depth of filler", depth_mm, "mm", 0, 100)
    check_sanded(sanded)
    return area_m2 * share * depth_mm / (1 - sanded)


def seam_fillet_l(seam_m: float, width_m: float, depth_mm: float, sanded: float) -> float:
    """Filler along seams, triangular in section: length × width × depth / 2.

    Parameters
    ----------
    seam_m : float
        Length of seam [m].
    width_m : float
        Width of the fillet [m].
    depth_mm : float
        Depth of the fillet [mm].
    sanded : float
        Share of the filler that is sanded off [dimensionless].

    Returns
    -------
    float
        [l]; common practice, no source.

    Raises
    ------
    OutOfRange
        For a value below nothing, or a share beyond the whole.
    """
    within("Seam", seam_m, "m", 0, None)
    within("Width of the fillet", width_m, "m", 0, 1)
    within("Depth of filler", depth_mm, "mm", 0, 100)
    check_sanded(sanded)
    return seam_m * width_m * depth_mm / 2 / (1 - sanded)


def check_sanded(sanded: float) -> None:
    """Refuse to sand off all of a filler.

    Parameters
    ----------
    sanded : float
        Share of the filler that is sanded off [dimensionless]; common practice, no source.

    Raises
    ------
    OutOfRange
        Outside 0 to 0.9.
    """
    within("Share of filler sanded off", sanded, "", 0, 0.9)


def _check_film(volume_solids: float, dry_film_um: float) -> None:
    within("Volume solids", volume_solids, "", 0.01, 1, "It is a share of the volume, such as 0.50.")
    within("Dry film", dry_film_um, "um", 0.1, 10_000)
