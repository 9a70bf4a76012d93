"""Sheets of labels: where each label lies on the paper, and how large a code it takes.

A code of the printed kind (ISO/IEC 18004) is read where four of its modules
stay blank all round it. It is held to 25 mm so that a phone reads it at arm's
length through dust: common practice, no source.
"""

from dataclasses import dataclass

from jobs.delivery.papers import Paper
from materials.estimator.errors import EstimatorError
from materials.estimator.ranges import whole, within

QUIET_MODULES = 4
LEAST_CODE_MM = 25.0
MOST_CODE_MM = 50.0
MOST_LABELS = 600

# Blank to each side of what is printed, for a printer that draws the sheet a little askew.
INSET_MM = 1.0
# The line of signs below the code, for when it cannot be read.
WRITTEN_MM = 3.0
# What the code with its quiet zone may take of a label's width; words want the rest.
_SHARE = 0.52
# The smallest code that an address of a studio takes, of 29 modules, with its quiet zone.
_LEAST_WHOLE_MM = LEAST_CODE_MM * (29 + 2 * QUIET_MODULES) / 29


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of equal labels in columns and rows.

    Attributes
    ----------
    paper : Paper
    columns, rows : int
        Labels across and down [each].
    width_mm, height_mm : float
        One label [mm].
    left_mm, top_mm : float
        From the paper's edge to the first label [mm].
    across_mm, down_mm : float
        From the left edge of a label to that of the next, and from the top to the next [mm].
    """

    paper: Paper
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    across_mm: float
    down_mm: float

    @property
    def count(self) -> int:
        """Labels on a sheet [each]."""
        return self.columns * self.rows


@dataclass(frozen=True, slots=True)
class LabelPlace:
    """Where one label lies: on which page, from 0, and its upper left corner from that of the paper [mm]."""

    page: int
    x_mm: float
    y_mm: float


def checked(sheet: LabelSheet) -> LabelSheet:
    """The sheet, if its labels lie on the paper beside each other and each takes a code.

    Parameters
    ----------
    sheet : LabelSheet

    Returns
    -------
    LabelSheet
        The same.

    Raises
    ------
    OutOfRange
        For a count or a length that no sheet of labels has, or a label too small for a code.
    EstimatorError
        When labels overlap or run off the paper.
    """
    whole("Labels across", sheet.columns, "", 1, 20)
    whole("Labels down", sheet.rows, "", 1, 40)
    for name, value in (("From the left edge", sheet.left_mm), ("From the top edge", sheet.top_mm)):
        within(name, value, "mm", 0, 100)
    within("Height of a label", sheet.height_mm, "mm", _LEAST_WHOLE_MM + WRITTEN_MM + 2 * INSET_MM, 420)
    within("Width of a label", sheet.width_mm, "mm", _LEAST_WHOLE_MM / _SHARE, 420)
    for name, step_mm, side_mm in (
        ("From a label to the next beside it", sheet.across_mm, sheet.width_mm),
        ("From a label to the next below it", sheet.down_mm, sheet.height_mm),
    ):
        within(
            name, step_mm, "mm", side_mm, 420, "It is measured from edge to like edge, so that labels never overlap."
        )
    right_mm = sheet.left_mm + (sheet.columns - 1) * sheet.across_mm + sheet.width_mm
    foot_mm = sheet.top_mm + (sheet.rows - 1) * sheet.down_mm + sheet.height_mm
    for side, reach_mm, paper_mm in (
        ("right", right_mm, sheet.paper.width_mm),
        ("foot", foot_mm, sheet.paper.height_mm),
    ):
        if reach_mm > paper_mm + 0.05:
            raise EstimatorError(
                side,
                reach_mm,
                f"The last label ends {reach_mm:g} mm from the edge, and {sheet.paper.name} measures {paper_mm:g} mm; "
                f"measure the sheet again.",
            )
    return sheet


def code_side_mm(sheet: LabelSheet, modules: int) -> float:
    """How wide a code of so many modules is printed, its quiet zone not counted.

    Parameters
    ----------
    sheet : LabelSheet
    modules : int
        Across the code, without the quiet zone [each].

    Returns
    -------
    float
        [mm]; as large as the height or about half the width of a label allows, 50 mm at most.

    Raises
    ------
    OutOfRange
        When that is under 25 mm.
    """
    whole("Modules of the code", modules, "", 21, 177)
    free_mm = min(sheet.height_mm - WRITTEN_MM - 2 * INSET_MM, _SHARE * sheet.width_mm)
    side_mm = min(MOST_CODE_MM, free_mm * modules / (modules + 2 * QUIET_MODULES))
    hint = "Choose larger labels, or open this page by a shorter address."
    within("The code on these labels", round(side_mm, 1), "mm", LEAST_CODE_MM, None, hint)
    return side_mm


def label_places(sheet: LabelSheet, first: int, count: int) -> tuple[LabelPlace, ...]:
    """Where so many labels go, row by row, from the first free place on.

    Parameters
    ----------
    sheet : LabelSheet
    first : int
        The first free place on the first sheet, counted from 1, along the rows [each].
    count : int
        How many labels [each].

    Returns
    -------
    tuple of LabelPlace

    Raises
    ------
    OutOfRange
        When the first place is not on the sheet, or there are more labels than anybody sticks on.
    """
    whole("First free place", first, "", 1, sheet.count, "Count along the rows, from the upper left.")
    whole("Labels", count, "", 0, MOST_LABELS, "Print fewer sections at a time.")
    places = []
    for number in range(first - 1, first - 1 + count):
        page, place = divmod(number, sheet.count)
        row, column = divmod(place, sheet.columns)
        places.append(LabelPlace(page, sheet.left_mm + column * sheet.across_mm, sheet.top_mm + row * sheet.down_mm))
    return tuple(places)
