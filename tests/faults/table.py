"""One row for each run, and the table they are printed as."""

from collections.abc import Sequence
from dataclasses import astuple, dataclass, fields


@dataclass(frozen=True, slots=True)
class Row:
    """One run: how many were tried, how many the server acknowledged, and what was found in the database after."""

    run: str
    tried: int
    acknowledged: int
    present: int
    lost: int
    doubled: int
    errors: int

    @property
    def is_whole(self) -> bool:
        """Whether nothing was lost or doubled or answered by an error, and something was acknowledged at all."""
        return self.acknowledged > 0 and not (self.lost or self.doubled or self.errors)


def summed(rows: Sequence[Row]) -> Row:
    """Every run together."""
    figures = zip(*(astuple(row)[1:] for row in rows), strict=True)
    return Row("sum", *map(sum, figures))


def table(rows: Sequence[Row]) -> str:
    """Every run under the headings, and the sum as the last line."""
    names = [field.name for field in fields(Row)]
    lines = [names, *([str(value) for value in astuple(row)] for row in (*rows, summed(rows)))]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    return "\n".join(
        "  ".join(
            cell.rjust(width) if number else cell.ljust(width)
            for number, (cell, width) in enumerate(zip(line, widths, strict=True))
        )
        for line in lines
    )
