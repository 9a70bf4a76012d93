"""The holes and legs of a base: read from what is entered, checked, and laid on sheets of paper in true size.

Coordinates are in millimetres from the middle of the base, x to the right and
y away from whoever stands at its front.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.delivery.papers import Paper
from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.lines import Term
from materials.estimator.ranges import whole, within

MOST = 40
CHECK_BAR_MM = 100.0
# Blank round a printed page, for printers that reach no further; and how far one page's drawing goes on the next.
MARGIN_MM = 10.0
OVERLAP_MM = 10.0
MOST_PAGES = 60


@dataclass(frozen=True, slots=True)
class Bolt:
    """One hole: its middle [mm] and the diameter of its bolt [mm]."""

    x_mm: float
    y_mm: float
    size_mm: float

    def __post_init__(self) -> None:
        for name, value in (("x of a bolt", self.x_mm), ("y of a bolt", self.y_mm)):
            within(name, value, "mm", -5000, 5000)
        within("Bolt", self.size_mm, "mm", 4, 64, "It is the diameter of the thread, such as 16 for M16.")


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg or tube that meets the base.

    Attributes
    ----------
    x_mm, y_mm : float
        Middle of its foot [mm].
    size_mm : float
        Diameter, or the longer side of its section [mm].
    lean_deg : float
        From the upright [deg].
    towards_deg : float
        Which way it leans in plan, from x towards y [deg].
    """

    x_mm: float
    y_mm: float
    size_mm: float
    lean_deg: float
    towards_deg: float

    def __post_init__(self) -> None:
        for name, value in (("x of a leg", self.x_mm), ("y of a leg", self.y_mm)):
            within(name, value, "mm", -5000, 5000)
        within("Leg", self.size_mm, "mm", 5, 1000, "It is its diameter or longer side.")
        within("Lean of a leg from the upright", self.lean_deg, "degrees", 0, 80)
        within("Way a leg leans", self.towards_deg, "degrees", -360, 360)


@dataclass(frozen=True, slots=True)
class Base:
    """A plate with its holes and legs.

    Attributes
    ----------
    length_mm, width_mm : float
        Of the plate, along x and y [mm].
    bolts : tuple of Bolt
    legs : tuple of Leg
    """

    length_mm: float
    width_mm: float
    bolts: tuple[Bolt, ...]
    legs: tuple[Leg, ...]

    def __post_init__(self) -> None:
        within("Length of the plate", self.length_mm, "mm", 20, 10_000)
        within("Width of the plate", self.width_mm, "mm", 20, 10_000)
        if not self.bolts:
            raise Missing("Bolt", "enter one hole a line, x y and the bolt in mm, such as 150 -100 16.")
        whole("Bolts", len(self.bolts), "", 1, MOST)
        whole("Legs", len(self.legs), "", 0, MOST)
        for number, bolt in enumerate(self.bolts, start=1):
            if abs(bolt.x_mm) > self.length_mm / 2 or abs(bolt.y_mm) > self.width_mm / 2:
                raise EstimatorError(
                    "bolt",
                    bolt,
                    f"Bolt {number} at {bolt.x_mm:g} {bolt.y_mm:g} lies off the plate of {self.length_mm:g} by "
                    f"{self.width_mm:g} mm; coordinates count from the middle of the plate.",
                )


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is in the way of fixing it: which bolt, counted from 1, and one sentence."""

    bolt: int
    text: str


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of the drawing.

    Attributes
    ----------
    column, row : int
        From 0, from the left and from the top.
    left_mm, top_mm : float
        What of the base lies in the page's upper left drawing corner: x, and y upwards [mm].
    """

    column: int
    row: int
    left_mm: float
    top_mm: float

    @property
    def name(self) -> str:
        """As the map of pages calls it: "A1" is the upper left."""
        return f"{chr(ord('A') + self.column)}{self.row + 1}"


@dataclass(frozen=True, slots=True)
class Tiling:
    """The pages of one drawing.

    Attributes
    ----------
    paper : Paper
        Upright.
    columns, rows : int
        Pages across and down [each].
    wide_mm, high_mm : float
        What a page draws, its margin taken off [mm].
    tiles : tuple of Tile
        Row by row.
    """

    paper: Paper
    columns: int
    rows: int
    wide_mm: float
    high_mm: float
    tiles: tuple[Tile, ...]


def read_bolts(typed: str) -> tuple[Bolt, ...]:
    """Holes typed one to a line: x, y and the bolt, in mm.

    Parameters
    ----------
    typed : str
        "150 -100 16".

    Returns
    -------
    tuple of Bolt

    Raises
    ------
    EstimatorError
        For a line that is not three numbers, or a number no hole has; it names the line.
    """
    return tuple(Bolt(*numbers) for numbers in _lines(typed, 3, "x, y and the bolt, such as 150 -100 16"))


def read_legs(typed: str) -> tuple[Leg, ...]:
    """Legs typed one to a line: x, y, size in mm, lean from the upright and which way in plan in degrees.

    Parameters
    ----------
    typed : str
        "120 0 60 15 0".

    Returns
    -------
    tuple of Leg

    Raises
    ------
    EstimatorError
        For a line that is not five numbers, or a number no leg has; it names the line.
    """
    wanted = "x, y, size, lean and which way, such as 120 0 60 15 0"
    return tuple(Leg(*numbers) for numbers in _lines(typed, 5, wanted))


def _lines(typed: str, count: int, wanted: str) -> list[list[float]]:
    found = []
    for number, line in enumerate(typed.splitlines(), start=1):
        words = line.replace(";", " ").replace("−", "-").split()
        if not words:
            continue
        try:
            numbers = [float(word.replace(",", ".")) for word in words]
        except ValueError:
            numbers = []
        if len(numbers) != count or not all(math.isfinite(each) for each in numbers):
            raise EstimatorError(
                "line", line, f"Line {number} is {line.strip()[:40]!r}; write {count} numbers, {wanted}."
            )
        found.append(numbers)
    return found


def troubles(base: Base, driver: Term, edge: Term) -> tuple[Trouble, ...]:
    """Bolts that no socket reaches, that stand too near each other, or too near the plate's edge.

    Parameters
    ----------
    base : Base
    driver : Term
        Clear across for socket and driver, times the bolt [dimensionless].
    edge : Term
        Bolt to the edge of the plate, times the bolt [dimensionless].

    Returns
    -------
    tuple of Trouble
        Geometry; the factors carry their own source.
    """
    found = []
    for number, bolt in enumerate(base.bolts, start=1):
        clear_mm = driver.value * bolt.size_mm / 2
        for other, leg in enumerate(base.legs, start=1):
            free_mm = math.hypot(leg.x_mm - bolt.x_mm, leg.y_mm - bolt.y_mm) - leg.size_mm / 2
            if free_mm < clear_mm:
                text = f"Bolt {number} has {max(0.0, free_mm):.0f} mm to leg {other}; a driver wants {clear_mm:.0f} mm."
                found.append(Trouble(number, text))
        for other, beside in enumerate(base.bolts[number:], start=number + 1):
            apart_mm = math.hypot(beside.x_mm - bolt.x_mm, beside.y_mm - bolt.y_mm)
            if apart_mm < clear_mm + beside.size_mm:
                found.append(
                    Trouble(number, f"Bolts {number} and {other} are {apart_mm:.0f} mm apart; a driver finds no room.")
                )
        rest_mm = min(base.length_mm / 2 - abs(bolt.x_mm), base.width_mm / 2 - abs(bolt.y_mm))
        if rest_mm < edge.value * bolt.size_mm:
            least_mm = edge.value * bolt.size_mm
            found.append(
                Trouble(number, f"Bolt {number} is {rest_mm:.0f} mm from the edge; {least_mm:.0f} mm are usual.")
            )
    return tuple(found)


def tiled(base: Base, paper: Paper) -> Tiling:
    """The base over as many pages as it takes, each overlapping the next, the whole in their middle.

    Parameters
    ----------
    base : Base
    paper : Paper

    Returns
    -------
    Tiling
        Geometry.

    Raises
    ------
    OutOfRange
        When it takes more pages than anybody sticks together.
    """
    wide_mm, high_mm = paper.width_mm - 2 * MARGIN_MM, paper.height_mm - 2 * MARGIN_MM - _FOOT_MM
    reach_x, reach_y = (half + _AROUND_MM for half in _halves(base))
    columns = _pages(2 * reach_x, wide_mm)
    rows = _pages(2 * reach_y, high_mm)
    whole("Pages", columns * rows, "", 1, MOST_PAGES, "Choose larger paper, or mark it out by the coordinates.")
    left = -_begun(columns, wide_mm, reach_x, [(bolt.x_mm, bolt.size_mm) for bolt in base.bolts])
    top = _begun(rows, high_mm, reach_y, [(-bolt.y_mm, bolt.size_mm) for bolt in base.bolts])
    tiles = tuple(
        Tile(column, row, left + column * (wide_mm - OVERLAP_MM), top - row * (high_mm - OVERLAP_MM))
        for row in range(rows)
        for column in range(columns)
    )
    return Tiling(paper, columns, rows, wide_mm, high_mm, tiles)


# Below the drawing of a page: its name, the check bar, and what to do.
_FOOT_MM = 16.0
# Round the plate, for its corners and the axes' ends.
_AROUND_MM = 6.0


def _halves(base: Base) -> tuple[float, float]:
    across = [abs(leg.x_mm) + leg.size_mm / 2 for leg in base.legs]
    deep = [abs(leg.y_mm) + leg.size_mm / 2 for leg in base.legs]
    return max([base.length_mm / 2, *across]), max([base.width_mm / 2, *deep])


def _pages(length_mm: float, page_mm: float) -> int:
    return max(1, math.ceil((length_mm - OVERLAP_MM) / (page_mm - OVERLAP_MM) - 1e-9))


def spans_mm(bolts: Sequence[Bolt]) -> tuple[tuple[int, int, float], ...]:
    """The distances to measure with a tape before drilling: each bolt to the next, and the longest across.

    Parameters
    ----------
    bolts : sequence of Bolt

    Returns
    -------
    tuple of (int, int, float)
        Two bolts, counted from 1, and the distance between their middles [mm]; geometry.
    """

    def apart(first: int, second: int) -> tuple[int, int, float]:
        one, other = bolts[first], bolts[second]
        return first + 1, second + 1, math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)

    count = len(bolts)
    beside = tuple(apart(number, number + 1) for number in range(count - 1))
    if count < 3:
        return beside
    across = max((apart(one, other) for one in range(count) for other in range(one + 1, count)), key=lambda s: s[2])
    return (*beside, across)


def _begun(pages: int, page_mm: float, reach_mm: float, bolts: Sequence[tuple[float, float]]) -> float:
    """How far before the middle the first page begins, so that as few bolts as can be lie across a seam [mm]."""
    step = page_mm - OVERLAP_MM
    spare = max(0.0, (pages - 1) * step + page_mm - 2 * reach_mm)
    middle = reach_mm + spare / 2

    def torn(begun: float) -> int:
        ends = [(page * step - begun, page * step - begun + page_mm) for page in range(pages)]
        return sum(1 for at, size in bolts if not any(low <= at - size and at + size <= high for low, high in ends))

    shifts = [middle + way * each for each in range(0, int(spare / 2) + 1, 5) for way in (1, -1)]
    return min(shifts, key=lambda begun: (torn(begun), abs(begun - middle)))
