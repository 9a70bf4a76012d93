"""What both formats are read into: numbered lines of text under a line of column names."""

from collections.abc import Mapping, Sequence

from materials.services.allowed import quoted

MOST_BYTES = 2 * 1024 * 1024
MOST_ROWS = 20_000

Line = tuple[int, tuple[str, ...]]
"""The number of a line in its file, and its cells."""


class UnreadableFile(ValueError):
    """A file that cannot be read as a price book at all, in one sentence."""


def under_columns(lines: Sequence[Line], columns: Sequence[str]) -> list[tuple[int, Mapping[str, str]]]:
    """Each line's cells by column; the first line names the columns, in any order."""
    if not lines:
        raise UnreadableFile("The file is empty. Download the price book, fill it in, and send that.")
    names = [text.strip().casefold() for text in lines[0][1]]
    while names and not names[-1]:
        names.pop()
    _check_names(names, columns)
    table: list[tuple[int, Mapping[str, str]]] = []
    for number, cells in lines[1:]:
        if any(text.strip() for text in cells[len(names) :]):
            raise UnreadableFile(
                f"Line {number} has more cells than there are columns; close the quotes around its text."
            )
        padded = [*cells[: len(names)], *[""] * (len(names) - len(cells))]
        table.append((number, dict(zip(names, padded, strict=True))))
    return table


def _check_names(names: Sequence[str], columns: Sequence[str]) -> None:
    faults = []
    if missing := [name for name in columns if name not in names]:
        faults.append(f"missing: {', '.join(missing)}")
    if unknown := [name for name in names if name not in columns]:
        faults.append(f"not known: {', '.join(quoted(name) for name in unknown[:5])}")
    if doubled := sorted({name for name in names if names.count(name) > 1 and name in columns}):
        faults.append(f"twice: {', '.join(doubled)}")
    if faults:
        hint = "the first line names each column once, as in a downloaded price book."
        if len(names) == 1 and any(sign in names[0] for sign in ";\t"):
            hint = "save the file with commas between the cells, or as XLSX."
        raise UnreadableFile(f"The columns do not match ({'; '.join(faults)}); {hint}")
