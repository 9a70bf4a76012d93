"""One row of the bench, and the table they are printed as."""

from collections.abc import Sequence
from dataclasses import dataclass

HEADINGS = ("name", "measured", "limit", "unit", "verdict", "note")
RIGHT_ALIGNED = ("measured", "limit")


@dataclass(frozen=True, slots=True)
class Row:
    """One measurement: what was measured, how much, how much is allowed (None: shown only), in which unit."""

    name: str
    measured: float
    limit: float | None
    unit: str
    note: str = ""

    @property
    def within(self) -> bool:
        """Whether the limit, if there is one, is kept; a measurement that is not a number keeps none."""
        return self.limit is None or self.measured <= self.limit

    @property
    def verdict(self) -> str:
        """The row's judgement in a word or two."""
        if self.limit is None:
            return "shown only"
        return "within" if self.within else "OVER"


def table(rows: Sequence[Row]) -> str:
    """Every row under the headings, the figures right-aligned."""
    lines = [HEADINGS]
    for row in rows:
        limit = "" if row.limit is None else f"{row.limit:g}"
        lines.append((row.name, f"{row.measured:.3g}", limit, row.unit, row.verdict, row.note))
    widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
    printed = []
    for line in lines:
        cells = [
            cell.rjust(width) if heading in RIGHT_ALIGNED else cell.ljust(width)
            for cell, width, heading in zip(line, widths, HEADINGS, strict=True)
        ]
        printed.append("  ".join(cells).rstrip())
    return "\n".join(printed)
