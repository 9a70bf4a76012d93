"""The quote as the commissioner receives it."""

import re
from dataclasses import fields, replace
from functools import cache
from itertools import zip_longest

import pikepdf
import pytest

from jobs.documents import quote_document
from jobs.figures.sheet import QuoteSheet, points
from materials.drawing import Placed, drawing_svg
from materials.estimator.lines import TakeOff
from materials.estimator.shapes import outline_of
from materials.estimator.takeoff import take_off
from materials.units import display_quantity
from studio.money import format_minor
from tests.jobs.quote_samples import (
    ACORNS,
    COMMISSIONER,
    HEAD,
    PEAR,
    drawing,
    job,
    long_pear,
    price,
    quote_sheet,
    scopes,
    section,
    six_acorns,
)
from tests.studio.pdf_reading import attachments, elements, fonts, opened, outline, pages, text

HEADINGS = [
    "What is made",
    "Programme",
    "Price",
    "Stage payments",
    "Included",
    "Assumed",
    "Not included",
    "Approvals along the way",
    "Care",
    "Cautions",
    "Validity and terms",
    "Acceptance",
]
TEXTS = ("included", "assumed", "excluded", "approvals", "care", "terms", "programme_basis")


@cache
def pear() -> bytes:
    return quote_document(quote_sheet())


def bare_sheet(**changes: object) -> QuoteSheet:
    """A sheet that says nothing of its own accord."""
    return quote_sheet(place="", description="", priced_from="", colours="", **dict.fromkeys(TEXTS, ()), **changes)


def amounts(pdf: bytes) -> set[str]:
    return set(re.findall(r"£[0-9,]+\.[0-9]{2}", text(pdf)))


def test_it_says_to_whom_what_and_until_when() -> None:
    said = text(pear())

    for part in ("Fallow Lane Market Garden", "Ruth Osei, head gardener", "Upper Tarrow TW9 0ZZ", "Saltgate Yard"):
        assert part in said
    assert "Quote 26-014, revision 2, of 12 Mar 2026, drawn up by M. Ellery" in said
    assert "Maquette 1:10 and drawing LP-02, revision C" in said
    assert "RAL 6011 reseda green" in said
    assert "This quote can be accepted until 11 Apr 2026." in said


def test_its_parts_come_in_the_order_in_which_they_are_read() -> None:
    bookmarks = outline(pear())

    assert bookmarks[0] == "The Long Pear"
    assert [title for title in bookmarks if title in HEADINGS] == HEADINGS
    assert bookmarks[2:8] == ["All sections", "Base", "Belly", "Shoulder", "Neck", "Stalk"]


def test_every_amount_is_that_of_the_sheet_and_no_other_is_there() -> None:
    sheet = quote_sheet()
    asked = sheet.price
    minor = [
        *(part.net_minor for part in asked.parts),
        *(amount for tax in asked.taxes for amount in (tax.net_minor, tax.tax_minor)),
        *(payment.amount_minor for payment in asked.payments),
        *(asked.net_minor, asked.tax_minor, asked.gross_minor),
    ]

    assert amounts(pear()) == {format_minor(amount, "GBP") for amount in minor}


def test_every_part_and_payment_is_there_with_its_amount() -> None:
    said = text(pear())
    asked = quote_sheet().price

    for part in asked.parts:
        assert f"{part.label} Standard, 20 % {format_minor(part.net_minor, 'GBP')}" in said
    for payment, share in zip(asked.payments, ("30 %", "30 %", "30 %", "10 %"), strict=True):
        assert f"{payment.label} {share} {format_minor(payment.amount_minor, 'GBP')}" in said


def test_every_point_of_the_workshop_is_printed() -> None:
    sheet, said = quote_sheet(), text(pear())

    for name in TEXTS:
        for point in getattr(sheet, name):
            assert point in said, name


def test_the_acceptance_names_version_price_and_commissioner() -> None:
    said = pages(pear())[-1]

    assert (
        "On behalf of Fallow Lane Market Garden I accept quote 26-014, revision 2, at £30,550.06 with VAT included."
        in said
    )
    assert re.search(r"Name Role Date Signature", said)


def test_a_standing_caution_leaves_structure_and_lifting_to_those_who_answer_for_them() -> None:
    said = text(pear())

    assert "designed by an engineer" in said
    assert "planned by a competent person" in said
    assert "estimates made before the work" in said


def test_the_title_block_stands_on_every_page() -> None:
    found = pages(pear())

    for number, page in enumerate(found, start=1):
        assert f"Sheet {number} / {len(found)}" in page
        for part in ("Workshop Saltgate Yard", "Title The Long Pear", "Document Quote", "Number 26-014", "Rev 2"):
            assert part in page
        assert "Date 12 Mar 2026" in page


@pytest.mark.parametrize(("units", "points_high"), [("metric", 842), ("us", 792)])
def test_the_paper_is_that_of_the_country(units: str, points_high: int) -> None:
    # A4 is 210 x 297 mm (ISO 216), letter 8.5 x 11 in: heights in points of 1/72 in.
    found = opened(quote_document(quote_sheet(head=replace(HEAD, units=units))))

    assert {round(float(page.mediabox[3])) for page in found.pages} == {points_high}


def test_its_drawing_is_told_to_those_who_do_not_see_it() -> None:
    found = opened(pear())

    (figure,) = (element for element in elements(found) if element.S == "/Figure")
    told = str(figure.Alt).replace("\u2009", " ")
    assert told.startswith("The Long Pear. Front and side view")
    assert "2 600 mm high, 1 240 mm wide, 1 240 mm deep." in told
    assert "A person of 1.75 m stands beside." in told


def test_it_has_one_title_and_tables_whose_cells_name_their_headings() -> None:
    found = opened(pear())
    tags = list(elements(found))
    kinds = [str(tag.S) for tag in tags]

    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == len(HEADINGS)
    cells = [tag for tag in tags if tag.S == "/TD"]
    assert len(cells) > 40
    assert all(len(cell.A.Headers) >= 1 for cell in cells)
    assert all(fonts(found).values())


def parted(found: pikepdf.Pdf) -> tuple[int, int]:
    """How many headings there are, and how many stand on a page without anything after them."""
    headings = alone = 0
    for element in elements(found):
        kids = [kid for kid in element.get("/K", []) if isinstance(kid, pikepdf.Dictionary)]
        for heading, after in zip_longest(kids, kids[1:]):
            if heading.get("/S") in ("/H2", "/H3"):
                headings += 1
                # A part that goes over the page is two elements, so that a heading alone is the last of its own.
                alone += after is None or after.Pg.objgen != heading.Pg.objgen
    return headings, alone


@pytest.mark.parametrize("lines", [0, 7, 14, 21, 28])
def test_no_heading_is_parted_from_what_follows(lines: int) -> None:
    sheet = quote_sheet(excluded=tuple(f"Not this, number {number}" for number in range(lines)))

    found = opened(quote_document(sheet))
    headings, alone = parted(found)

    assert headings >= 17
    assert alone == 0


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert quote_document(quote_sheet()) == pear()


def test_what_most_sections_share_is_said_once_and_exceptions_stand_with_their_section() -> None:
    said = text(pear())

    assert said.count("Grade B, painted public art") == 1
    assert said.count("Grade A, gallery gloss") == 1
    assert said.index("All sections") < said.index("Grade B") < said.index("Stalk Size") < said.index("Grade A")
    assert said.count("None: it travels open.") == 1


def test_a_single_section_is_said_in_full() -> None:
    spec = job("Ball", section("Ball", PEAR["Base"]))

    said = text(quote_document(quote_sheet(spec)))

    assert "One section, patterned, moulded and cast as described here." in said
    assert "All sections" not in said
    assert "Ball Size" in said


def test_sections_alike_in_everything_are_said_to_be_so() -> None:
    spec = job("Twins", section("First", PEAR["Base"]), section("Second", PEAR["Base"]))

    said = text(quote_document(quote_sheet(spec)))

    assert "First As all sections. Second As all sections." in said


def test_pulls_and_pairs_are_told() -> None:
    said = text(quote_document(quote_sheet(six_acorns(), drawing_svg=drawing(ACORNS, "Six Acorns"))))

    assert "Six casts, all from one mould." in said
    assert "One pair of casts, left and right" in said


def test_a_sheet_that_says_little_leaves_out_what_it_does_not_say() -> None:
    sheet = bare_sheet(drawing_svg="", programme_weeks=None)

    pdf = quote_document(sheet)

    titles = outline(pdf)
    assert not {"Included", "Assumed", "Not included", "Approvals along the way", "Care"} & set(titles)
    assert "The dates are agreed when the quote is accepted." in text(pdf)
    found = opened(pdf)
    assert [element for element in elements(found) if element.S == "/Figure"] == []


def test_tax_is_called_what_it_is_called_there() -> None:
    sheet = quote_sheet(price=price((("Base", 100_00),), currency="KWD", tax_name="Levy"))

    said = text(quote_document(sheet))

    assert "VAT" not in said.replace(HEAD.workshop.registration, "")
    assert "Total, Levy included KWD 12.000" in said


def test_no_word_of_cost_or_hour_comes_from_the_document_itself() -> None:
    said = text(quote_document(bare_sheet()))

    found = re.findall(
        r"\b(?:costs?|hours?|rates?|wages?|margins?|mark-up|overheads?|profit|contingency)\b", said, re.I
    )
    assert found == []


def planted(worked: TakeOff) -> TakeOff:
    """The same take-off with figures of the inside that nobody would take for another's."""
    secret = 98765.4321
    return replace(
        worked,
        sections=tuple(
            replace(
                figures,
                area_m2=secret,
                seam_m=secret,
                volume_m3=secret,
                patterns=98765,
                pattern=replace(figures.pattern, bought_m3=secret, solid_m3=secret, mass_kg=secret, blocks=98765),
                mould=replace(figures.mould, area_m2=secret, mass_kg=secret, piece_mass_kg=secret, bolts=98765),
            )
            for figures in worked.sections
        ),
    )


def test_no_figure_of_the_inside_passes_through() -> None:
    spec = job(
        "The Long Pear",
        *(replace(one, mould=replace(one.mould, frame_kg_per_piece=487.654)) for one in long_pear().sections),
    )
    sheet = quote_sheet(sections=scopes(spec, planted(take_off(spec))))

    said = text(quote_document(sheet)).replace(",", "").replace("\u202f", "")

    assert "98765" not in said
    assert "487.6" not in said


def test_no_quantity_of_material_and_no_hour_is_printed() -> None:
    spec = job("Base", section("Base", PEAR["Base"], pieces=4))
    worked = take_off(spec)

    said = text(quote_document(bare_sheet(sections=scopes(spec, worked)))).replace("\u202f", "")

    quantities = [(line.net, line.unit) for line in worked.lines] + [(line.buy, line.unit) for line in worked.lines]
    quantities += [(step.likely, "h") for step in worked.hours]
    printed = {" ".join(display_quantity(value, unit)) for value, unit in quantities if unit != "each"}
    assert len(printed) > 30
    assert [each for each in printed if re.search(rf"(?<![0-9.]){re.escape(each)}(?![a-z²³])", said)] == []


HOSTILE = '<link rel=attachment href="file:///etc/passwd"><img src="http://127.0.0.1:9/"><script>go()</script>&amp;'


def test_whatever_was_typed_is_printed_as_typed() -> None:
    spec = job(HOSTILE, section(HOSTILE, PEAR["Base"]))
    shapes = {view: outline_of(PEAR["Base"], view) for view in ("front", "side")}
    texts = {field.name: HOSTILE for field in fields(QuoteSheet) if field.type == "str" and field.name != "drawing_svg"}
    sheet = quote_sheet(
        spec,
        head=replace(HEAD, title=HOSTILE, drawn_by=HOSTILE, workshop=replace(HEAD.workshop, name=HOSTILE)),
        commissioner=replace(COMMISSIONER, name=HOSTILE, address=HOSTILE),
        drawing_svg=drawing_svg([Placed(HOSTILE, shapes)], title=HOSTILE, uid="work"),
        price=price(((HOSTILE, 100_00),)),
        **texts,
        **{name: points(HOSTILE) for name in TEXTS},
    )

    pdf = quote_document(sheet)

    assert attachments(pdf) == []
    assert re.sub(r"\s", "", text(pdf)).count("<script>go()</script>&amp;") > 20
