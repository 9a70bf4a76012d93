"""Force coefficient of an upright block by its proportions."""

import numpy as np

from materials.estimator.ranges import within

# IS 875-3:2015 Table 23, as a summary of the clause prints it: rows by height over the shorter side of the plan,
# columns by the longer side over the shorter. The first row and the last column hold for all beyond them.
_TALL = (0.5, 1.0, 2.0, 4.0, 10.0, 20.0)
_LONG = (1.0, 2.0, 4.0, 10.0)
_COEFFICIENTS = np.array(
    [
        [0.9, 0.9, 0.9, 0.9],
        [1.0, 1.05, 1.1, 1.2],
        [1.15, 1.2, 1.25, 1.35],
        [1.3, 1.35, 1.4, 1.5],
        [1.4, 1.45, 1.5, 1.6],
        [1.5, 1.55, 1.6, 1.7],
    ]
)


def block_coefficient(length_m: float, width_m: float, height_m: float) -> float:
    """Force coefficient of an upright block, whichever side the wind is on.

    Parameters
    ----------
    length_m, width_m, height_m : float
        [m]

    Returns
    -------
    float
        Linear between the rows and columns of the table [dimensionless].

    Raises
    ------
    OutOfRange
        For sides that are none, or a block more than twenty times as tall as it is wide.

    References
    ----------
    IS 875-3:2015 Table 23, taken with the shorter side of the plan, which is the safe way.
    """
    for side_m in (length_m, width_m, height_m):
        within("Side of the block", side_m, "m", 1e-3, 1000)
    shorter, longer = sorted((length_m, width_m))
    tall = height_m / shorter
    within("Height over the shorter side", tall, "", None, _TALL[-1], "The table ends there; ask an engineer.")
    by_height = [np.interp(tall, _TALL, column) for column in _COEFFICIENTS.T]
    return float(np.interp(longer / shorter, _LONG, by_height))
