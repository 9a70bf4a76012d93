"""The PDF itself: tagged, the same every time, and closed to everything outside."""

import base64
import io
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pypdf
import pytest
from django.utils.html import escape

from studio.pdf import PLACE, render_pdf
from tests.studio.pdf_reading import attachments, elements, fonts, opened, outline, streams, text

PAGE = """<!doctype html><html lang="en-GB"><head><title>Sheet</title></head><body class="a4">
<h1>A heading</h1><p>{}</p><table><tr><th scope="row">Gross</th><td>£9,276.46</td></tr></table></body></html>"""
SECRET = "the-salt-is-under-the-third-step"


class Canary:
    """A server on this machine that counts who calls."""

    def __init__(self) -> None:
        self.calls: list[str] = []
        calls = self.calls

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                calls.append(self.path)
                self.send_response(404)
                self.end_headers()

            def log_message(self, *args: object) -> None:
                """Say nothing."""

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.address = f"http://127.0.0.1:{self.server.server_port}"
        self.thread = threading.Thread(target=self.server.serve_forever)
        self.thread.start()

    def close(self) -> None:
        self.server.shutdown()
        self.thread.join()
        self.server.server_close()


@pytest.fixture
def canary() -> Iterator[Canary]:
    canary = Canary()
    yield canary
    canary.close()


@pytest.fixture
def secret(tmp_path: Path) -> str:
    path = tmp_path / "secret.txt"
    path.write_text(SECRET, encoding="utf-8")
    return path.as_uri()


def hostile(address: str, secret: str) -> list[str]:
    """What somebody might type into a note, hoping that a renderer obeys."""
    inner = base64.b64encode(
        f'<svg xmlns="http://www.w3.org/2000/svg"><image href="{secret}"/><image href="{address}/svg"/></svg>'.encode()
    ).decode()
    return [
        f'<link rel="attachment" href="{secret}">',
        f'<link rel="attachment" href="{address}/attachment">',
        '<link rel="attachment" href="file:///etc/passwd">',
        '<link rel="attachment" href="data:text/plain,smuggled">',
        f'<a rel="attachment" href="{secret}">open</a>',
        f'<link rel="stylesheet" href="{address}/sheet.css">',
        f'<img src="{address}/picture.png"><img src="{secret}">',
        f'<style>@import "{address}/import.css"; p {{ background: url(file:///dev/zero) }}</style>',
        f"<style>@font-face {{ font-family: x; src: url({address}/font) }} p {{ font-family: x }}</style>",
        f'<p style="background: url({address}/style)">styled</p>',
        f'<object data="{secret}"></object><embed src="{address}/embed">',
        f'<svg xmlns="http://www.w3.org/2000/svg"><image href="{address}/inline"/></svg>',
        f'<img src="data:image/svg+xml;base64,{inner}">',
        f'<img src="{PLACE}../../etc/passwd"><img src="{PLACE}css/tokens.css"><img src="{PLACE}">',
    ]


def test_it_is_tagged_with_title_and_language() -> None:
    found = opened(render_pdf(PAGE.format("Text"), title="Quote 26-014 / 2", language="en-US"))

    assert found.Root.MarkInfo.Marked
    assert str(found.Root.Lang) == "en-US"
    assert found.Root.ViewerPreferences.DisplayDocTitle
    assert str(found.docinfo["/Title"]) == "Quote 26-014 / 2"
    assert "/H1" in [str(element.S) for element in elements(found)]
    # ISO 14289-1, clause 5: a file says that it conforms in its metadata.
    assert found.open_metadata()["pdfuaid:part"] == "1"
    assert found.check_pdf_syntax() == []


def test_its_cells_name_their_headings() -> None:
    found = opened(render_pdf(PAGE.format("Text"), title="Sheet"))
    tags = list(elements(found))

    heading = next(tag for tag in tags if tag.S == "/TH")
    cell = next(tag for tag in tags if tag.S == "/TD")
    assert [str(name) for name in cell.A.Headers] == [str(heading.ID)]


def test_its_fonts_stand_in_it_and_are_the_workshops_own() -> None:
    found = fonts(opened(render_pdf(PAGE.format("2 600 × 450 m², ½″, <b>£</b>"), title="Sheet")))

    assert set(found) == {"Source-Sans-Pro", "Source-Sans-Pro-Semi-Bold"}
    assert all(found.values())


def test_its_headings_are_bookmarks() -> None:
    assert outline(render_pdf(PAGE.format("Text"), title="Sheet")) == ["A heading"]


def test_the_same_page_gives_the_same_bytes_and_no_date() -> None:
    first, second = (render_pdf(PAGE.format("Text"), title="Sheet") for _ in range(2))

    assert first == second
    assert not {"/CreationDate", "/ModDate"} & set(pypdf.PdfReader(io.BytesIO(first)).metadata)


def test_a_hostile_page_brings_nothing_in_and_calls_nobody(canary: Canary, secret: str) -> None:
    for markup in hostile(canary.address, secret):
        pdf = render_pdf(PAGE.format(markup), title="Sheet")

        assert attachments(pdf) == [], markup
        assert SECRET not in text(pdf), markup
        assert SECRET.encode() not in streams(pdf), markup
    assert canary.calls == []


def test_hostile_text_is_printed_as_it_was_typed(canary: Canary, secret: str) -> None:
    typed = " ".join(hostile(canary.address, secret))

    pdf = render_pdf(PAGE.format(escape(typed)), title=typed)

    assert attachments(pdf) == []
    assert canary.calls == []
    assert "@import" in text(pdf)


def test_the_canary_would_be_heard(canary: Canary) -> None:
    from weasyprint import HTML

    HTML(string=f'<img alt="" src="{canary.address}/heard">').render()

    assert canary.calls == ["/heard"]


@pytest.mark.parametrize("typed", ["\x00", "\x1b[2J", "\ud800", "\uffff", "\u202etxet", "👩‍🏭", "é́́", "طين", "陶"])
def test_text_of_any_kind_is_survived(typed: str) -> None:
    pdf = render_pdf(PAGE.format(f"before {typed} after"), title=f"Sheet {typed}")

    found = opened(pdf)
    assert found.check_pdf_syntax() == []
    assert str(found.docinfo["/Title"]).startswith("Sheet ")


def test_a_picture_within_the_page_is_drawn_with_its_text_alternative() -> None:
    svg = base64.b64encode(b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0L9 9"/></svg>')

    pdf = render_pdf(PAGE.format(f'<img alt="A pear" src="data:image/svg+xml;base64,{svg.decode()}">'), title="Sheet")

    found = opened(pdf)
    assert [str(element.Alt) for element in elements(found) if element.S == "/Figure"] == ["A pear"]
