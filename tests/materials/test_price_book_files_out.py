"""The price book going out: every cell harmless in a spreadsheet program, every file the same for the same book."""

import csv
import datetime
import io
import zipfile
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.services.price_book_files.reading import read_file
from materials.services.price_book_files.rows import COLUMNS, Row, read_row
from materials.services.price_book_files.writing import csv_text, price_book_rows, workbook
from studio.spreadsheets import guarded, unguarded
from tests.factories import make_item, make_price

STARTS = ["=", "+", "-", "@", "\t", "\r", "\0", "＝", "＋", "－", "＠"]
PAYLOADS = [f"{start}1+cmd|' /C calc'!A0" for start in STARTS] + [
    '=HYPERLINK("http://example.org","x")',
    " =1+1",
    "'=1+1",
]


def row(**values: object) -> Row:
    return Row(**{"key": "marble_flour", "name": "Marble flour", "kind": "filler", "unit": "kg", **values})  # type: ignore[arg-type]


def cells_of_csv(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


@pytest.mark.parametrize("payload", PAYLOADS)
@pytest.mark.parametrize("column", ["name", "supplier", "pack"])
def test_no_csv_cell_begins_a_formula(payload: str, column: str) -> None:
    written = cells_of_csv(csv_text([row(**{column: payload})], "GBP"))[1][list(COLUMNS).index(column)]
    assert written == f"'{payload}"
    assert unguarded(written) == payload


@pytest.mark.parametrize("payload", [payload for payload in PAYLOADS if payload[0] not in "\0\t\r"])
@pytest.mark.parametrize("column", ["name", "supplier", "pack"])
def test_no_cell_of_the_workbook_is_a_formula_or_a_link(payload: str, column: str) -> None:
    data = workbook([row(**{column: payload})], "GBP")
    sheet = openpyxl.load_workbook(io.BytesIO(data)).worksheets[0]
    cell = sheet.cell(2, list(COLUMNS).index(column) + 1)
    assert (cell.value, cell.data_type) == (payload, "s")
    assert all(each.data_type != "f" and each.hyperlink is None for line in sheet.iter_rows() for each in line)
    assert b"<f>" not in zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml")


def test_figures_are_left_plain() -> None:
    line = cells_of_csv(
        csv_text(
            [
                row(
                    density_kg_m3=Decimal("2700"),
                    pack="25 kg bag",
                    pack_quantity=Decimal("25.0000"),
                    valid_from=datetime.date(2026, 1, 5),
                    price_minor=123456789,
                )
            ],
            "GBP",
        )
    )[1]
    assert dict(zip(COLUMNS, line, strict=True)) == {
        "key": "marble_flour",
        "name": "Marble flour",
        "kind": "filler",
        "unit": "kg",
        "density_kg_m3": "2700",
        "supplier": "",
        "lead_days": "0",
        "shelf_life_days": "",
        "pack": "25 kg bag",
        "pack_quantity": "25",
        "valid_from": "2026-01-05",
        "price": "1234567.89",
        "currency": "GBP",
    }


def test_the_csv_is_of_rfc_4180_in_utf_8_with_a_byte_order_mark() -> None:
    text = csv_text([row(name='Marble "flour", 200 mesh')], "GBP")
    assert text.startswith("\ufeffkey,name,kind,")
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r\n") == 2
    assert '"Marble ""flour"", 200 mesh"' in text


def test_in_the_workbook_a_price_is_a_number_and_a_day_a_date() -> None:
    priced = row(pack="bag", pack_quantity=Decimal("0.5"), valid_from=datetime.date(2026, 1, 5), price_minor=1250)
    values = next(
        openpyxl.load_workbook(io.BytesIO(workbook([priced], "KWD")))
        .worksheets[0]
        .iter_rows(min_row=2, values_only=True)
    )
    found = dict(zip(COLUMNS, values, strict=True))
    assert (found["price"], found["pack_quantity"]) == (1.25, 0.5)
    assert found["valid_from"] == datetime.datetime(2026, 1, 5)  # noqa: DTZ001 (a workbook's days have no zone)


@pytest.mark.django_db
def test_every_item_pack_and_price_has_a_line_in_one_query(django_assert_num_queries: object) -> None:
    bare, half, full = make_item("aa"), make_item("ab"), make_item("ac")
    half.packs.create(label="25 kg bag", quantity=Decimal(25))
    make_price(full, 1000, "2026-01-05")
    make_price(full, 1100, "2026-05-01")
    make_price(full, 300, "2026-05-01", "5", "5 kg bag")
    with django_assert_num_queries(1):  # type: ignore[operator]
        found = [line for line in price_book_rows() if line.key in ("aa", "ab", "ac")]
    assert [
        (line.key, line.pack, line.valid_from and line.valid_from.isoformat(), line.price_minor) for line in found
    ] == [
        (bare.key, "", None, None),
        (half.key, "25 kg bag", None, None),
        (full.key, "5 kg bag", "2026-05-01", 300),
        (full.key, "25 kg bag", "2026-01-05", 1000),
        (full.key, "25 kg bag", "2026-05-01", 1100),
    ]


def fit(text: str) -> bool:
    return text == text.strip() and "x005F_" not in text


ODD = st.one_of(
    st.sampled_from(
        ["'=x", "''", "'", '"', "a,b", "=1+1", "＝x", "🌊", "\u202eabc", "e\u0301", "_x0041_", "1e5", "TRUE"]
    ),
    st.text(st.characters(exclude_categories=["Cc", "Cs"], exclude_characters="\ufffe\uffff"), max_size=40),
).filter(fit)
ROWS = st.builds(
    Row,
    key=st.from_regex(r"[a-z][a-z0-9_]{0,20}", fullmatch=True),
    name=ODD.filter(bool),
    kind=st.sampled_from(["resin", "hour", "service"]),
    unit=st.sampled_from(["kg", "m2", "each"]),
    density_kg_m3=st.none() | st.decimals("1", "25000", places=3).map(lambda value: value.normalize()),
    supplier=ODD,
    lead_days=st.integers(0, 730),
    shelf_life_days=st.none() | st.integers(0, 3650),
    pack=ODD.filter(bool),
    pack_quantity=st.decimals("0.0001", "1000000", places=4).map(lambda value: value.normalize()),
    valid_from=st.dates(datetime.date(1970, 1, 1), datetime.date(2199, 12, 31)),
    price_minor=st.integers(0, 10**14),
)


@settings(deadline=None)
@given(st.lists(ROWS, max_size=4), st.sampled_from(["GBP", "JPY", "KWD"]))
def test_what_goes_out_as_csv_comes_back_and_goes_out_the_same(rows: list[Row], currency: str) -> None:
    text = csv_text(rows, currency)
    back = [read_row(cells, currency) for _, cells in read_file(text.encode())]
    assert back == rows
    assert csv_text(back, currency) == text


@settings(deadline=None)
@given(st.lists(ROWS, max_size=4), st.sampled_from(["GBP", "JPY", "KWD"]))
def test_what_goes_out_as_a_workbook_comes_back_and_goes_out_the_same(rows: list[Row], currency: str) -> None:
    data = workbook(rows, currency)
    back = [read_row(cells, currency) for _, cells in read_file(data)]
    assert back == rows
    assert workbook(back, currency) == data


@settings(deadline=None)
@given(st.text())
def test_the_guard_comes_off_as_it_went_on(text: str) -> None:
    assert unguarded(guarded(text)) == text
