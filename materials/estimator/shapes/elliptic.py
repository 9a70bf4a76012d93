"""Elliptic integrals in Carlson's symmetric form, and what they measure.

The symmetric form has no special case for two or three equal axes, and loses
no digits where axes are nearly equal; the older form in F and E does both.
"""

import math

from materials.estimator.shapes.limits import check_length

# The series below are cut after fifth order, so spreads under these leave errors near 1e-17.
_RF_SPREAD = 2e-3
_RD_SPREAD = 1e-3


def _rf(x: float, y: float, z: float) -> float:
    """Carlson's R_F by duplication (Carlson 1995, DLMF 19.36; from memory)."""
    while True:
        mean = (x + y + z) / 3
        dx, dy = 1 - x / mean, 1 - y / mean
        dz = -dx - dy
        if max(abs(dx), abs(dy), abs(dz)) < _RF_SPREAD:
            e2, e3 = dx * dy - dz * dz, dx * dy * dz
            return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / math.sqrt(mean)
        rx, ry, rz = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        step = rx * ry + ry * rz + rz * rx
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4


def _rd(x: float, y: float, z: float) -> float:
    """Carlson's R_D by duplication (Carlson 1995, DLMF 19.36; from memory)."""
    total, weight = 0.0, 1.0
    while True:
        mean = (x + y + 3 * z) / 5
        dx, dy = 1 - x / mean, 1 - y / mean
        dz = -(dx + dy) / 3
        if max(abs(dx), abs(dy), abs(dz)) < _RD_SPREAD:
            xy, zz = dx * dy, dz * dz
            e2, e3 = xy - 6 * zz, (3 * xy - 8 * zz) * dz
            e4, e5 = 3 * (xy - zz) * zz, xy * zz * dz
            series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
            return total + weight * series / (mean * math.sqrt(mean))
        rx, ry, rz = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        step = rx * ry + ry * rz + rz * rx
        total += 3 * weight / (rz * (z + step))
        weight /= 4
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4


def _rg(x: float, y: float, z: float) -> float:
    """Carlson's R_G; taking the middle argument as z keeps every term positive, so nothing cancels."""
    low, middle, high = sorted((x, y, z))
    product = (high - middle) * (middle - low)
    return (middle * _rf(low, high, middle) + product * _rd(low, high, middle) / 3 + math.sqrt(low * high / middle)) / 2


def ellipsoid_area_m2(a_m: float, b_m: float, c_m: float) -> float:
    """Surface of an ellipsoid, exact to rounding.

    Parameters
    ----------
    a_m, b_m, c_m : float
        Semi-axes, in any order [m].

    Returns
    -------
    float
        Surface [m^2].

    Raises
    ------
    OutOfRange
        If a semi-axis is not between 1 mm and 100 m.

    References
    ----------
    DLMF 19.33, surface of an ellipsoid as 4 pi R_G(a^2 b^2, a^2 c^2, b^2 c^2); from memory.
    """
    for name, value in (("half length a", a_m), ("half width b", b_m), ("half height c", c_m)):
        check_length(name, value)
    return 4 * math.pi * _rg((a_m * b_m) ** 2, (a_m * c_m) ** 2, (b_m * c_m) ** 2)


def ellipse_perimeter_m(a_m: float, b_m: float) -> float:
    """Length round an ellipse, exact to rounding: a seam round an ellipsoid's middle.

    Parameters
    ----------
    a_m, b_m : float
        Semi-axes, in either order [m].

    Returns
    -------
    float
        Perimeter [m].

    Raises
    ------
    OutOfRange
        If a semi-axis is not between 1 mm and 100 m.

    References
    ----------
    DLMF 19.30, perimeter of an ellipse as 8 R_G(0, a^2, b^2); from memory.
    """
    check_length("half length a", a_m)
    check_length("half width b", b_m)
    return 8 * _rg(0.0, a_m**2, b_m**2)
