"""Parts, the sheets they are cut from, and the through cuts that free them.

A saw on a rail or a hot wire cuts a piece from edge to edge; a layout is of
use only where such cuts, one after another, free every part. Places are
reckoned in whole tenths of a millimetre, with the cut of the saw beside every
part. By geometry; that no plan can take fewer sheets than its parts have area
is by definition.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from materials.estimator.ranges import rounded_up, within

TENTHS_PER_M = 10_000


@dataclass(frozen=True, slots=True)
class Part:
    """What is to be cut: its name, and its length (along the grain, where it has one) and width [m]."""

    name: str
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class Stock:
    """What is cut from.

    Attributes
    ----------
    length_m, width_m : float
        One sheet, or the face of one block, its length along the grain [m].
    kerf_m : float
        What the saw or the wire takes [m].
    turning : bool
        Whether parts may be laid across the grain.
    """

    length_m: float
    width_m: float
    kerf_m: float
    turning: bool

    def __post_init__(self) -> None:
        within("Length of a sheet", self.length_m, "m", 0.1, 20)
        within("Width of a sheet", self.width_m, "m", 0.1, 20)
        within("Cut of the saw", self.kerf_m, "m", 0, 0.02)

    @property
    def area_m2(self) -> float:
        """One sheet [m^2]."""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class Laid:
    """A part in its place: from the sheet's left and lower edge, and as large as it lies [m]."""

    part: Part
    x_m: float
    y_m: float
    length_m: float
    width_m: float

    @property
    def is_turned(self) -> bool:
        """Whether it lies across the grain."""
        return round((self.length_m - self.part.length_m) * TENTHS_PER_M) != 0


@dataclass(frozen=True, slots=True)
class Cut:
    """One through cut of one piece.

    Attributes
    ----------
    across : bool
        Across the sheet's length, or along it.
    at_m : float
        From the left or the lower edge of the piece that is cut to the near side of the saw [m].
    x_m, y_m, length_m : float
        Where it begins on the sheet and how far it runs [m].
    """

    across: bool
    at_m: float
    x_m: float
    y_m: float
    length_m: float


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left over: its lower left corner and its size [m]."""

    x_m: float
    y_m: float
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """[m^2]"""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """One sheet, and how many are cut the same [each]."""

    laid: tuple[Laid, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    alike: int = 1


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """All parts on their sheets.

    Attributes
    ----------
    parts_m2 : float
        All parts together [m^2].
    floor : int
        Sheets that the area alone asks for; no plan takes fewer [each].
    """

    stock: Stock
    sheets: tuple[SheetPlan, ...]
    parts_m2: float
    floor: int

    @property
    def count(self) -> int:
        """Sheets in all [each]."""
        return sum(sheet.alike for sheet in self.sheets)

    @property
    def yield_fraction(self) -> float:
        """Share of the sheets that ends in parts [dimensionless]."""
        return self.parts_m2 / (self.count * self.stock.area_m2)


def area_floor(parts_m2: float, stock: Stock) -> int:
    """Sheets that the area alone asks for.

    Parameters
    ----------
    parts_m2 : float
        All parts together [m^2].
    stock : Stock

    Returns
    -------
    int
        [each]
    """
    return rounded_up(parts_m2 / stock.area_m2)


def tenths(length_m: float) -> int:
    """A length in whole tenths of a millimetre, upwards.

    Parameters
    ----------
    length_m : float
        [m]

    Returns
    -------
    int
        Tenths of a millimetre [each].
    """
    return rounded_up(length_m * TENTHS_PER_M)


@dataclass(frozen=True, slots=True)
class Taken:
    """A part with the saw's cut at its right and upper side, in tenths of a millimetre; ``part`` is its number."""

    left: int
    low: int
    right: int
    high: int
    part: int


@dataclass(frozen=True, slots=True)
class _Piece:
    """What is still to be cut, with the saw's cut at its right and upper side, in tenths of a millimetre."""

    left: int
    low: int
    right: int
    high: int
    taken: tuple[Taken, ...]

    def parted(self) -> tuple[bool, int] | None:
        """The shortest through cut that frees something: across or along, and where; None where there is none."""
        across = [(self.high - self.low, True, at) for at in self._free("left", "right")]
        along = [(self.right - self.left, False, at) for at in self._free("low", "high")]
        shortest = min(across + along, default=None)
        return None if shortest is None else shortest[1:]

    def _free(self, near: str, far: str) -> Iterator[int]:
        spans = [(getattr(each, near), getattr(each, far)) for each in self.taken]
        for at in sorted({edge for span in spans for edge in span}):
            inside = getattr(self, near) < at < getattr(self, far)
            if inside and not any(begin < at < end for begin, end in spans):
                yield at

    def halves(self, across: bool, at: int) -> tuple["_Piece", "_Piece"]:
        """Both pieces after the cut."""
        if across:
            before = tuple(each for each in self.taken if each.right <= at)
            after = tuple(each for each in self.taken if each.left >= at)
            return (
                _Piece(self.left, self.low, at, self.high, before),
                _Piece(at, self.low, self.right, self.high, after),
            )
        before = tuple(each for each in self.taken if each.high <= at)
        after = tuple(each for each in self.taken if each.low >= at)
        return (
            _Piece(self.left, self.low, self.right, at, before),
            _Piece(self.left, at, self.right, self.high, after),
        )


@dataclass(slots=True)
class _Sawn:
    """What the cuts have come to so far."""

    kerf: int
    cuts: list[Cut] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)

    def saw(self, piece: _Piece) -> bool:
        """Cut a piece until its parts are free; whether that could be done."""
        if not piece.taken:
            self._keep(piece)
            return True
        found = piece.parted()
        if found is None:
            only = piece.taken[0]
            whole = (only.left, only.low, only.right, only.high) == (piece.left, piece.low, piece.right, piece.high)
            return len(piece.taken) == 1 and whole
        across, at = found
        self.cuts.append(self._cut(piece, across, at))
        return all(self.saw(half) for half in piece.halves(across, at))

    def _cut(self, piece: _Piece, across: bool, at: int) -> Cut:
        begin, runs = (piece.left, piece.high - piece.low) if across else (piece.low, piece.right - piece.left)
        near = at - self.kerf
        x, y = (near, piece.low) if across else (piece.left, near)
        return Cut(across, *(value / TENTHS_PER_M for value in (near - begin, x, y, runs - self.kerf)))

    def _keep(self, piece: _Piece) -> None:
        length, width = piece.right - piece.left - self.kerf, piece.high - piece.low - self.kerf
        if length > 0 and width > 0:
            self.offcuts.append(Offcut(*(value / TENTHS_PER_M for value in (piece.left, piece.low, length, width))))


def sawn(taken: Sequence[Taken], parts: Sequence[Part], stock: Stock) -> SheetPlan | None:
    """One sheet with its cuts in order and what is left over.

    Parameters
    ----------
    taken : sequence of Taken
        The places on the sheet.
    parts : sequence of Part
        The parts that the places name by number.
    stock : Stock

    Returns
    -------
    SheetPlan or None
        None where through cuts alone do not free every part.
    """
    kerf = tenths(stock.kerf_m)
    sheet = _Piece(0, 0, tenths(stock.length_m) + kerf, tenths(stock.width_m) + kerf, tuple(taken))
    work = _Sawn(kerf)
    if not work.saw(sheet):
        return None
    laid = [_laid(each, parts[each.part], kerf) for each in sorted(taken, key=lambda each: (each.left, each.low))]
    return SheetPlan(tuple(laid), tuple(work.cuts), tuple(work.offcuts))


def _laid(taken: Taken, part: Part, kerf: int) -> Laid:
    sides = taken.left, taken.low, taken.right - taken.left - kerf, taken.high - taken.low - kerf
    return Laid(part, *(value / TENTHS_PER_M for value in sides))
