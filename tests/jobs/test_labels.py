"""Labels as they are printed, read by a phone, and followed."""

import re
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from django.test import Client
from django.utils import timezone
from PIL import Image, ImageDraw, ImageFilter

from jobs.models import LabelStock, Section, StageState
from studio.accounts.models import AuditEntry, Role
from studio.office.models import House
from tests.factories import make_commission, make_open_stage, make_section, signed_in
from tests.studio.pdf_reading import opened, text

pytestmark = pytest.mark.django_db
DPI = 200


def labelled_section() -> Section:
    """Two casts from a mould of three pieces."""
    return make_section(make_commission("The Long Pear, for a gate of some width"), pulls=2, pieces=3, metal="4.5 kg")


def ask(section: Section, **changed: object) -> dict[str, object]:
    stock = LabelStock.objects.get(name="A4, 3 across, 8 down")
    kinds = ["cast", "piece", "crate"]
    return {"kinds": kinds, "sections": [section.pk], "stock": stock.pk, "first": "1", **changed}


def printed(client: Client, section: Section, **changed: object) -> bytes:
    answer = client.get(f"/commissions/{section.commission_id}/labels/labels.pdf", ask(section, **changed))
    assert answer.headers["Content-Type"] == "application/pdf"
    return answer.content


def sides(pdf: bytes) -> tuple[int, int]:
    """The sides of the first page, in points."""
    with opened(pdf) as document:
        _, _, width, height = document.pages[0].mediabox
        return round(float(width)), round(float(height))


def drawn(pdf: bytes, tmp_path: Path) -> list[Image.Image]:
    (tmp_path / "labels.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-r", str(DPI), "-gray", "-png", str(tmp_path / "labels.pdf"), str(tmp_path / "page")]
    subprocess.run(command, check=True)
    return [Image.open(path) for path in sorted(tmp_path.glob("page*.png"))]


def rubbed(page: Image.Image, code: zxingcpp.Barcode, share: float) -> tuple[Image.Image, float]:
    """One code cut out with its quiet zone, that share of its modules rubbed off its edge, unsharp; its width [mm]."""
    first, last = code.position.top_left, code.position.bottom_right
    side = last.x - first.x
    # 29 modules across, of which the finder in the corner and its border take 9.
    quiet, finder = side * 4 / 29, side * 9 / 29
    cut = page.crop((round(first.x - quiet), round(first.y - quiet), round(last.x + quiet), round(last.y + quiet)))
    edge = quiet + side
    ImageDraw.Draw(cut).rectangle((edge - share * side**2 / (side - finder), quiet + finder, edge, edge), fill=255)
    return cut.filter(ImageFilter.GaussianBlur(1)), side / DPI * 25.4


@pytest.mark.needs("pdftoppm")
def test_every_code_is_read_off_the_printed_sheet_even_with_a_blot_on_it(tmp_path: Path) -> None:
    section, client = labelled_section(), signed_in(Role.BENCH)
    (page,) = drawn(printed(client, section), tmp_path)
    codes = zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.QRCode)
    things = ("C1", "C2", "K1", "K2", "M1P1", "M1P2", "M1P3")
    assert {code.text for code in codes} == {f"http://testserver/at/{section.pk}-{signs}/" for signs in things}
    for code in codes:
        # ISO/IEC 18004: level Q wins back a quarter of the codewords. A blot spoils those at its edge too, so that a
        # quarter of them is less than a fifth of the area.
        cut, side_mm = rubbed(page, code, 0.18)
        assert side_mm >= 24.8
        assert [found.text for found in zxingcpp.read_barcodes(cut)] == [code.text]


def test_a_label_says_what_it_is_on_and_a_sheet_begun_is_used_up() -> None:
    section, client = labelled_section(), signed_in(Role.BENCH)
    pdf = printed(client, section, first="20")
    said = re.sub(r"\s", "", text(pdf))
    # Five labels fill the sheet from the twentieth place, two go on the next.
    assert len(opened(pdf).pages) == 2
    for words in (
        section.commission.number,
        "Base",
        "piece2of3",
        "Cast2of2",
        "UP",
        f"{section.pk}-M1P3",
        "grossabout",
        "kg",
    ):
        assert words in said
    assert "£" not in said


def test_the_page_shows_the_sheets_and_says_what_is_wrong_without_losing_what_was_typed() -> None:
    section, client = labelled_section(), signed_in(Role.BENCH)
    address = f"/commissions/{section.commission_id}/labels/"
    # Before anybody chooses: two casts and three pieces on the first sheet there is.
    assert "5 labels on 1 sheet" in client.get(address).content.decode()
    assert client.get(f"{address}labels.pdf").headers["Content-Type"] == "application/pdf"
    House.objects.update(units="us")
    assert sides(client.get(f"{address}labels.pdf").content) == (612, 792)
    shown = client.get(address, ask(section)).content.decode()
    assert "7 labels on 1 sheet" in shown
    assert "style=" not in shown
    for changed, told in (
        ({"first": "25"}, "between 1 and 24"),
        ({"first": "x"}, "not a plain number"),
        ({"kinds": []}, "Choose casts, mould pieces or crates"),
        ({"sections": ["999"]}, "Choose sections of this commission"),
        ({"stock": "0"}, "Choose a sheet of labels"),
    ):
        for page in ("", "labels.pdf"):
            answer = client.get(address + page, ask(section, **changed))
            assert answer.status_code == 422
            assert told in answer.content.decode()
    section.crated = False
    section.save()
    assert "nothing of this kind" in client.get(address, ask(section, kinds=["crate"])).content.decode()


def test_a_label_opens_the_stage_that_its_thing_has_come_to() -> None:
    section, client = labelled_section(), signed_in(Role.BENCH)
    at = lambda signs: client.get(f"/at/{section.pk}-{signs}/")  # noqa: E731
    assert at("C1").headers["Location"] == f"/sections/{section.pk}/"
    stages = {
        key: make_open_stage(section, key, position=place)
        for place, key in enumerate(("pattern", "mould", "cast", "finish", "crate"))
    }
    leads = {"C1": "pattern", "M1P2": "mould", "K2": "crate"}
    for signs, key in leads.items():
        assert at(signs).headers["Location"] == f"/stages/{stages[key].code}/"
        assert at(signs.lower()).headers["Location"] == f"/stages/{stages[key].code}/"
    for key in ("pattern", "mould", "cast"):
        stages[key].state = StageState.PASSED
        stages[key].save()
    assert at("C2").headers["Location"] == f"/stages/{stages['finish'].code}/?cast=2"
    assert f"/stages/{stages['finish'].code}/issue/?cast=2" in client.get(at("C2").headers["Location"]).content.decode()
    # A mould whose casts have passed stays with its casts.
    assert at("M1P2").headers["Location"] == f"/stages/{stages['cast'].code}/"
    assert client.get("/at/rubbish/").status_code == 404
    assert client.get("/at/999999-C1/").status_code == 404
    assert Client().get(f"/at/{section.pk}-C1/").headers["Location"].startswith("/sign-in/?next=/at/")


def test_the_office_keeps_its_own_sheets() -> None:
    client = signed_in(Role.OFFICE)
    measures = {
        "version": "0",
        "name": "Round the back",
        "paper": "a4",
        "columns": "2",
        "rows": "7",
        "width_mm": "99,1",
        "height_mm": "38.1",
        "left_mm": "4.65",
        "top_mm": "15.15",
        "across_mm": "101.6",
        "down_mm": "38.1",
    }
    assert client.post("/office/own/labels/new/", measures).status_code == 302
    row = LabelStock.objects.get(name="Round the back")
    assert (row.width_mm, row.checked_on) == (99.1, timezone.localdate())
    address = f"/office/own/labels/{row.pk}/"
    assert client.post("/office/own/labels/new/", measures).status_code == 422
    too_wide = client.post(address, {**measures, "columns": "3"})
    assert too_wide.status_code == 422
    assert "A4 measures 210 mm" in too_wide.content.decode()
    assert client.post(address, {**measures, "rows": "6"}).status_code == 302
    stale = client.post(address, {**measures, "rows": "5"})
    assert stale.status_code == 409
    assert 'value="5"' in stale.content.decode()
    row.refresh_from_db()
    assert row.rows == 6
    assert client.post(f"{address}remove/").status_code == 302
    acts = AuditEntry.objects.filter(act__startswith="Sheet of labels").values_list("act", flat=True)
    assert len(acts) == 3
