"""An XLSX file as lines of text, once it has been looked through for what would flood the machine."""

import datetime
import io
import re
import zipfile
from decimal import Decimal

from materials.services.price_book_files.table import MOST_ROWS, Line, UnreadableFile

MOST_ENTRIES = 200
MOST_UNPACKED = 40 * 1024 * 1024
MOST_RATIO = 200
_CHUNK = 64 * 1024
# An entity multiplies what was counted, and a price book needs none; searched for in UTF-8 and both UTF-16.
_DECLARATIONS = tuple(
    form for mark in ("<!DOCTYPE", "<!ENTITY") for form in (mark.encode(), mark.encode("utf-16-le")[:-1])
)
_DECLARED = re.compile(rb"""encoding\s*=\s*["']([^"']+)["']""")

DAMAGED = (
    "The workbook is damaged, or is not an XLSX file. Open it in a spreadsheet program, save it as XLSX, and send that."
)
FLOOD = "The workbook unpacks to far more than a price book holds, so it was not opened. Send the price book alone."
FOREIGN = (
    "The workbook holds parts that a price book has no use for, so it was not opened. Save a new one, values only."
)


def workbook_lines(data: bytes, columns: int) -> list[Line]:
    """The first sheet, as text, at most one column more than asked for."""
    _look_through(data)
    import openpyxl

    try:
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        sheet = book.worksheets[0]
        # What the sheet says of its own size may be wrong.
        sheet.reset_dimensions()
        lines: list[Line] = []
        for number, cells in enumerate(sheet.iter_rows(max_col=columns + 1, values_only=True), start=1):
            if number > MOST_ROWS + 1:
                raise UnreadableFile(f"The sheet has more than {MOST_ROWS} lines; part it into several files.")
            texts = tuple(_text(cell) for cell in cells)
            if any(texts):
                lines.append((number, texts))
    except UnreadableFile:
        raise
    except Exception as error:
        # A damaged workbook fails anywhere in the reader and in any way.
        raise UnreadableFile(DAMAGED) from error
    return lines


def _look_through(data: bytes) -> None:
    """Refuse a file whose parts are too many, too large, nested out of their folder, or XML with declarations."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            declared = sum(entry.file_size for entry in entries)
            if len(entries) > MOST_ENTRIES or declared > MOST_UNPACKED:
                raise UnreadableFile(FLOOD)
            left = min(MOST_UNPACKED, MOST_RATIO * len(data))
            for entry in entries:
                if entry.filename.startswith(("/", "\\")) or ".." in entry.filename or entry.flag_bits & 1:
                    raise UnreadableFile(FOREIGN)
                left -= _size_of(archive, entry, left)
    except UnreadableFile:
        raise
    except (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, NotImplementedError, OSError, ValueError) as error:
        raise UnreadableFile(DAMAGED) from error
    except Exception as error:
        # Each way of packing has errors of its own, such as zlib's.
        raise UnreadableFile(DAMAGED) from error


def _size_of(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, most: int) -> int:
    """The size that a part really unpacks to, since what it declares may be untrue."""
    size, head, tail = 0, b"", b""
    with archive.open(entry) as part:
        while chunk := part.read(_CHUNK):
            size += len(chunk)
            head = head or chunk[:200]
            if size > most:
                raise UnreadableFile(FLOOD)
            seen = tail + chunk
            if any(mark in seen for mark in _DECLARATIONS):
                raise UnreadableFile(FOREIGN)
            tail = chunk[-20:]
    declared = _DECLARED.search(head) if head.lstrip(b"\xef\xbb\xbf").startswith(b"<?xml") else None
    if declared and declared[1].lower() not in (b"utf-8", b"utf-16", b"us-ascii"):
        # Another encoding could spell a declaration in other bytes.
        raise UnreadableFile(FOREIGN)
    return size


def _text(cell: object) -> str:
    """A cell as a CSV file would hold it."""
    if cell is None:
        return ""
    if isinstance(cell, datetime.datetime):
        return cell.date().isoformat() if cell.time() == datetime.time() else cell.isoformat(" ")
    if isinstance(cell, float):
        return f"{Decimal(repr(cell)).normalize():f}"
    return str(cell).strip()
