"""A file that somebody sends, as lines under the known columns; or one sentence why not."""

import csv
import io
from collections.abc import Mapping

from materials.services.price_book_files.rows import COLUMNS
from materials.services.price_book_files.table import MOST_BYTES, MOST_ROWS, Line, UnreadableFile, under_columns
from materials.services.price_book_files.workbook import workbook_lines
from studio.spreadsheets import unguarded

_ZIP = b"PK\x03\x04"
_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"


def read_file(data: bytes) -> list[tuple[int, Mapping[str, str]]]:
    """Each line with its number and its cells by column.

    The content decides the format, not the name of the file. Raises ``UnreadableFile``.
    """
    if len(data) > MOST_BYTES:
        raise UnreadableFile("The file has more than 2 MB; part it into several.")
    if data.startswith(_OLD_WORKBOOK):
        raise UnreadableFile("This is a workbook of the old kind (.xls); save it as XLSX or CSV and send that.")
    lines = workbook_lines(data, len(COLUMNS)) if data.startswith(_ZIP) else _csv_lines(data)
    return under_columns(lines, list(COLUMNS))


def _csv_lines(data: bytes) -> list[Line]:
    reader = csv.reader(io.StringIO(_decoded(data), newline=""), strict=True)
    lines: list[Line] = []
    try:
        for cells in reader:
            if any(text.strip() for text in cells):
                lines.append((reader.line_num, tuple(unguarded(text) for text in cells)))
            if len(lines) > MOST_ROWS + 1:
                raise UnreadableFile(f"The file has more than {MOST_ROWS} lines; part it into several.")
    except csv.Error as error:
        raise UnreadableFile(
            f"Line {reader.line_num} is not CSV: a quote in it is not closed, or a cell is longer than"
            f" {csv.field_size_limit()} signs. Put it right, or save the file as XLSX."
        ) from error
    return lines


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise UnreadableFile("The file is UTF-16 text; save it as CSV in UTF-8, or as XLSX.")
    if b"\0" in data:
        raise UnreadableFile("The file is neither CSV text nor an XLSX workbook; save the price book as one of them.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise UnreadableFile(f"Line {line} is not UTF-8 text; save the file as CSV in UTF-8, or as XLSX.") from error
