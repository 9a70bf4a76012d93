"""A board or a blank larger than a sheet, made of several parts.

Parts are equal, or full sheets with a rest; a rest too narrow to hold makes
them equal. Common practice, no source.
"""

from jobs.delivery.cutting import Part, Stock
from materials.estimator.ranges import rounded_up

# A strip narrower than this cannot be held on a batten and beside it.
_NARROWEST_M = 0.1


def joined(name: str, length_m: float, width_m: float, stock: Stock, *, evenly: bool) -> tuple[Part, ...]:
    """The parts of one rectangle, as few as the sheet allows.

    Parameters
    ----------
    name : str
        What it is.
    length_m, width_m : float
        Its sides [m].
    stock : Stock
    evenly : bool
        Whether parts are equal, or full sheets with a rest.

    Returns
    -------
    tuple of Part
        One where it goes on a sheet.
    """
    ways = [(stock.length_m, stock.width_m)] + ([(stock.width_m, stock.length_m)] if stock.turning else [])
    along_m, across_m = min(ways, key=lambda way: parts_along(length_m, way[0]) * parts_along(width_m, way[1]))
    sides = [
        (length, width)
        for length in _lengths(length_m, along_m, evenly=evenly)
        for width in _lengths(width_m, across_m, evenly=evenly)
    ]
    called = name if len(sides) == 1 else f"{name}, one of {len(sides)}"
    return tuple(Part(called, *each) for each in sides)


def parts_along(side_m: float, sheet_m: float) -> int:
    """How many sheets a side takes.

    Parameters
    ----------
    side_m, sheet_m : float
        [m]

    Returns
    -------
    int
        One at least [each].
    """
    return max(1, rounded_up(side_m / sheet_m))


def _lengths(side_m: float, sheet_m: float, *, evenly: bool) -> list[float]:
    count = parts_along(side_m, sheet_m)
    rest_m = side_m - (count - 1) * sheet_m
    if evenly or rest_m < _NARROWEST_M:
        return [side_m / count] * count
    return [sheet_m] * (count - 1) + [rest_m]
