"""Files that people send: what can be read is read, and the rest is refused in a sentence that says what to do."""

import io
import struct
import zipfile
import zlib
from collections.abc import Callable

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from materials.models import Item
from materials.services.price_book_files import workbook as workbooks
from materials.services.price_book_files.reading import read_file
from materials.services.price_book_files.rows import COLUMNS, Row
from materials.services.price_book_files.table import MOST_BYTES, MOST_ROWS, UnreadableFile
from materials.services.price_book_files.writing import csv_text, workbook
from tests.factories import signed_in

ROW = Row("marble_flour", "Marble flour", "filler", "kg")
HEAD = ",".join(COLUMNS)


def a_csv() -> bytes:
    return csv_text([ROW], "GBP").encode()


def an_xlsx() -> bytes:
    return workbook([ROW], "GBP")


def repacked(change: Callable[[str, bytes], bytes], more: dict[str, bytes] | None = None) -> bytes:
    """A workbook with its parts altered."""
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(an_xlsx())) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            new.writestr(entry.filename, change(entry.filename, old.read(entry)))
        for name, data in (more or {}).items():
            new.writestr(name, data)
    return target.getvalue()


def bomb() -> bytes:
    """Some 60 MB of nothing in some 60 kB."""
    return repacked(lambda _, data: data, {"xl/media/flat.bin": b"\0" * 60_000_000})


def lying_bomb() -> bytes:
    """A part that unpacks to a hundred times what it declares, and more than its packed size could hold."""
    data = b"\0" * 50_000_000
    packed = zlib.compress(data, 9)[2:-4]
    honest = io.BytesIO()
    with zipfile.ZipFile(honest, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", data)
    raw = bytearray(honest.getvalue())
    small = struct.pack("<L", 1000)
    raw[22:26] = small
    centre = raw.index(b"PK\x01\x02")
    raw[centre + 24 : centre + 28] = small
    assert len(packed) < 100_000
    return bytes(raw)


def with_doctype(name: str, data: bytes) -> bytes:
    if name != "xl/sharedStrings.xml":
        return data
    text = data.decode().replace("?>", '?><!DOCTYPE x [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>', 1)
    return text.encode()


def in_utf_16(name: str, data: bytes) -> bytes:
    if name != "xl/sharedStrings.xml":
        return data
    return with_doctype(name, data).decode().replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16")


def in_ebcdic(name: str, data: bytes) -> bytes:
    return data.replace(b'encoding="UTF-8"', b'encoding="cp037"') if name == "xl/sharedStrings.xml" else data


def escaping() -> bytes:
    return repacked(lambda _, data: data, {"../../evil.xml": b"<a/>"})


def old_workbook() -> bytes:
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 504


def many_entries() -> bytes:
    return repacked(lambda _, data: data, {f"xl/{number}.bin": b"" for number in range(201)})


def not_a_workbook() -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        archive.writestr("holiday.txt", "sun")
    return target.getvalue()


CORPUS: dict[str, tuple[bytes, str]] = {
    "a truncated workbook": (an_xlsx()[:2000], "damaged"),
    "a workbook with its end cut": (an_xlsx()[:-10], "damaged"),
    "a workbook with a byte turned": (an_xlsx()[:900] + b"\xff" + an_xlsx()[901:], "damaged"),
    "a zip that is no workbook": (not_a_workbook(), "damaged"),
    "a zip bomb": (bomb(), "unpacks to far more"),
    "a zip bomb that declares less": (lying_bomb(), "damaged"),
    "a workbook of too many parts": (many_entries(), "unpacks to far more"),
    "a workbook with a part outside": (escaping(), "parts that a price book has no use for"),
    "a workbook with entities": (repacked(with_doctype), "parts that a price book has no use for"),
    "a workbook with entities in UTF-16": (repacked(in_utf_16), "parts that a price book has no use for"),
    "a workbook in EBCDIC": (repacked(in_ebcdic), "parts that a price book has no use for"),
    "a workbook of the old kind": (old_workbook(), "save it as XLSX or CSV"),
    "other columns": (b"item,cost\r\nresin,4.00\r\n", "missing: key, name"),
    "one column too many": (f"{HEAD},colour\r\n".encode(), "not known: “colour”"),
    "a column twice": (f"{HEAD},price\r\n".encode(), "twice: price"),
    "semicolons": (HEAD.replace(",", ";").encode(), "commas between the cells"),
    "tabs": (HEAD.replace(",", "\t").encode(), "commas between the cells"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20, "neither CSV text nor an XLSX workbook"),
    "only space": (b"\r\n  \r\n", "The file is empty"),
    "UTF-16": (a_csv().decode("utf-8-sig").encode("utf-16"), "is UTF-16 text"),
    "UTF-16 without its mark": (a_csv().decode("utf-8-sig").encode("utf-16-le"), "neither CSV text"),
    "Latin-1": (f"{HEAD}\r\nmarble,Gr\xe9s\r\n".encode("latin-1"), "Line 2 is not UTF-8"),
    "a NUL": (a_csv().replace(b"Marble", b"Mar\0ble"), "neither CSV text nor an XLSX workbook"),
    "a cell of a megabyte": (f"{HEAD}\r\nmarble,{'x' * 1_000_000}\r\n".encode(), "a cell is longer than"),
    "a quote left open": (f'{HEAD}\r\nmarble,"flour\r\n'.encode(), "a quote in it is not closed"),
    "a quote in the middle": (f'{HEAD}\r\nmarble,"fl"our\r\n'.encode(), "a quote in it is not closed"),
    "a cell too many": (f"{HEAD}\r\n{',' * len(COLUMNS)}lost\r\n".encode(), "more cells than there are columns"),
    "too many lines": (f"{HEAD}\r\n".encode() + b"a\r\n" * (MOST_ROWS + 2), "more than 20000 lines"),
    "too many bytes": (b"a" * (MOST_BYTES + 1), "more than 2 MB"),
}


@pytest.mark.parametrize(("data", "reason"), CORPUS.values(), ids=CORPUS)
def test_it_refuses_what_it_cannot_read_and_says_why(data: bytes, reason: str) -> None:
    with pytest.raises(UnreadableFile) as refusal:
        read_file(data)
    assert reason in str(refusal.value)
    assert str(refusal.value).endswith(".")
    assert "Traceback" not in str(refusal.value)


@pytest.mark.django_db
def test_the_page_answers_every_one_of_them_plainly_and_writes_nothing() -> None:
    client = signed_in("office")
    before = Item.objects.count()
    for name, (data, reason) in {**CORPUS, "nothing at all": (b"", "The file is empty")}.items():
        answer = client.post(reverse("price_book_file"), {"file": SimpleUploadedFile("prices.csv", data)})
        assert answer.status_code == 422, name
        assert reason in answer.content.decode(), name
        assert "<title>Error: " in answer.content.decode(), name
    assert Item.objects.count() == before


def test_the_parts_are_counted_as_they_unpack(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbooks, "MOST_RATIO", 1)
    with pytest.raises(UnreadableFile, match="unpacks to far more"):
        read_file(an_xlsx())


def test_a_workbook_of_too_many_lines_is_refused() -> None:
    rows = [ROW] * (MOST_ROWS + 1)
    with pytest.raises(UnreadableFile, match="more than 20000 lines"):
        read_file(workbook(rows, "GBP"))


def test_as_many_lines_as_are_allowed_are_read() -> None:
    assert len(read_file(f"{HEAD}\r\n".encode() + b"a\r\n" * MOST_ROWS)) == MOST_ROWS


def test_the_content_decides_the_format() -> None:
    assert read_file(a_csv()) == read_file(an_xlsx())


def test_columns_may_stand_in_any_order_and_case_and_empty_lines_are_passed_over() -> None:
    turned = ",".join(name.upper() for name in reversed(COLUMNS))
    [(line, cells)] = read_file(f"{turned}\r\n\r\nGBP,,,,,,,,,,,Marble flour,marble_flour\r\n".encode())
    assert line == 3
    assert (cells["key"], cells["name"], cells["currency"]) == ("marble_flour", "Marble flour", "GBP")


def test_line_feeds_alone_end_lines_too() -> None:
    assert read_file(a_csv().replace(b"\r\n", b"\n")) == read_file(a_csv())


def test_a_workbook_made_by_another_program_is_read_by_its_values() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(list(COLUMNS))
    sheet.append(["marble_flour", 450, "filler", "kg", 2700.5, None, 3.0, None, True, 25, "2026-01-05", 84.5, "GBP"])
    target = io.BytesIO()
    book.save(target)
    [(_, cells)] = read_file(target.getvalue())
    assert (cells["name"], cells["density_kg_m3"], cells["lead_days"], cells["price"]) == ("450", "2700.5", "3", "84.5")
    assert (cells["pack"], cells["supplier"]) == ("True", "")


def test_a_cell_far_to_the_right_or_far_down_costs_nothing() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(list(COLUMNS))
    sheet["XFD1048576"] = "far"
    target = io.BytesIO()
    book.save(target)
    with pytest.raises(UnreadableFile, match="more than 20000 lines"):
        read_file(target.getvalue())
