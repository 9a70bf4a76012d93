"""The take-off with its working, for the office alone."""

import re
from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from jobs.documents import take_off_document
from jobs.figures.sheet import CostLine, Costs
from materials.estimator.catalogue import STEPS, entry_of
from materials.estimator.lines import Caution, Line, TakeOff, Term
from materials.estimator.takeoff import take_off
from studio.templatetags.display import pct, quantity
from tests.jobs.quote_samples import HEAD, PEAR, job, section
from tests.studio.pdf_reading import elements, fonts, opened, outline, pages, text

COSTS = Costs(
    "GBP",
    (
        CostLine("Labour, mould", Decimal("61.5"), "h", "at the cost of a productive hour", 2_152_50),
        CostLine("Laminating resin", Decimal(75), "kg", "3 drums", 318_75),
        CostLine("Profit", None, "", "20 % of the price", 617_81),
    ),
)


@cache
def pear() -> TakeOff:
    """Two sections, one of them heavy."""
    return take_off(
        job(
            "The Long Pear",
            section("Base", PEAR["Base"], pieces=4, metal_kg=35.0),
            section("Stalk", PEAR["Stalk"], grade="A"),
        )
    )


@cache
def said() -> str:
    return plain(text(take_off_document(HEAD, pear())))


def plain(words: str) -> str:
    """Text without the white space that lines are broken at."""
    return re.sub(r"\s", "", words)


def shown(value: float, unit: str) -> str:
    return plain(quantity(value, unit, "metric"))


def test_every_line_is_there_with_net_buy_and_formula() -> None:
    assert len(pear().lines) > 60
    for line in pear().lines:
        times = line.buy / line.net
        added = f"×{shown(times, '')}" if times >= 10 else plain(pct(times - 1))
        row = plain(entry_of(line.material).name) + shown(line.net, line.unit) + added + shown(line.buy, line.unit)
        assert row + plain(line.formula) in said(), line


def test_every_hour_is_there_by_its_step() -> None:
    assert len(pear().hours) > 30
    for step in pear().hours:
        hours = "".join(shown(value, "h") for value in (step.low, step.likely, step.high))
        assert plain(STEPS[step.stage][step.step]) + hours + plain(step.formula) in said(), step


def test_every_term_is_there_with_its_value_and_where_it_came_from() -> None:
    terms = {term for line in (*pear().lines, *pear().hours) for term in line.terms}

    assert len(terms) > 80
    for term in terms:
        label, value, origin = plain(term.label), shown(term.value, term.unit), plain(term.origin)
        in_a_table = f"{label}{value}{origin}".casefold()
        assert in_a_table in said().casefold() or f"{label}{value}({origin})" in said(), term


def test_a_term_that_means_two_things_is_said_with_each_line() -> None:
    def line(section: str, area_m2: float) -> Line:
        terms = (Term("area", area_m2, "m^2", "entered"), Term("cover", 2.0, "kg/m^2", "studio figure"))
        return Line(section, "cast", "gel_coat", 2 * area_m2, 2 * area_m2, "kg", "area × cover", terms)

    worked = replace(pear(), lines=(line("Base", 1.5), line("Stalk", 2.5)), hours=())

    printed = text(take_off_document(HEAD, worked))

    assert "Cover 2 kg/m² studio figure" in printed
    assert "area × cover: area 1.5 m² (entered)" in printed
    assert "area × cover: area 2.5 m² (entered)" in printed


def test_hours_of_all_stages_are_summed() -> None:
    sums = [shown(sum(getattr(step, name) for step in pear().hours), "h") for name in ("low", "likely", "high")]

    assert f"Total{''.join(sums)}" in said()


def test_cautions_come_first() -> None:
    worked = replace(pear(), warnings=(Caution("Base", "heavy_piece", "It weighs 47 kg."), Caution("", "x", "Mind.")))

    pdf = take_off_document(HEAD, worked)

    assert outline(pdf)[1] == "Cautions"
    assert "Base: It weighs 47 kg." in text(pdf)
    assert "Mind." in text(pdf)


def test_it_is_headed_internal_on_every_page() -> None:
    pdf = take_off_document(HEAD, pear())

    found = pages(pdf)
    assert "Internal: not for the commissioner. It holds quantities, hours and how they were worked." in found[0]
    for number, page in enumerate(found, start=1):
        assert "Internal: not for the commissioner · Saltgate Yard" in page
        assert f"Document Take-off Number 26-014 Rev 2 Date 12 Mar 2026 Sheet {number} / {len(found)}" in page


def test_the_build_up_is_there_when_it_is_given_and_only_then() -> None:
    priced = text(take_off_document(HEAD, pear(), priced=COSTS))

    assert "It holds quantities, hours, costs and how they were worked." in priced
    assert "Labour, mould 61.5 h at the cost of a productive hour £2,152.50" in priced
    assert "Laminating resin 75 kg 3 drums £318.75" in priced
    assert "Profit 20 % of the price £617.81" in priced
    assert "Total £3,089.06" in priced
    assert "£" not in said()


def test_materials_are_called_as_in_the_price_book() -> None:
    printed = text(take_off_document(HEAD, pear(), names={"gel_coat": "Gel coat, clear, Brinelight 40"}))

    assert "Gel coat, clear, Brinelight 40" in printed


def test_a_material_that_is_no_longer_known_stands_by_its_key() -> None:
    line = Line(
        "Base", "cast", "whale_oil", 1.0, 1.5, "kg", "skin area × oil", (Term("oil", 1.0, "kg/m^2", "entered"),)
    )
    worked = replace(pear(), lines=(line,), hours=())

    printed = text(take_off_document(HEAD, worked))

    assert "whale_oil 1 kg 50 % 1.5 kg" in printed


@pytest.mark.parametrize("units", ["metric", "us"])
def test_workings_stay_in_the_units_they_are_worked_in(units: str) -> None:
    printed = text(take_off_document(replace(HEAD, units=units), pear()))

    assert ("workings are in metric units, as they are worked" in printed) is (units == "us")
    area = next(term for term in pear().lines[1].terms if term.label == "skin area")
    assert f"skin area {quantity(area.value, area.unit, 'metric')} ({area.origin})" in printed
    assert bool(re.search(r"Laminating resin [0-9.]+ lb", printed)) is (units == "us")


def test_it_is_tagged_its_fonts_stand_in_it_and_it_is_the_same_every_time() -> None:
    pdf = take_off_document(HEAD, pear())

    found = opened(pdf)
    assert str(found.docinfo["/Title"]) == "Take-off 26-014 / 2: The Long Pear"
    assert [str(tag.S) for tag in elements(found)].count("/H1") == 1
    assert all(fonts(found).values())
    assert pdf == take_off_document(HEAD, pear())


def test_hostile_words_are_printed_as_they_are() -> None:
    markup = '<img src="file:///etc/passwd"> {{ 7 }}'
    line = replace(pear().lines[0], formula=markup, terms=(Term(markup, 1.0, "", markup),))

    printed = text(take_off_document(replace(HEAD, title=markup), replace(pear(), lines=(line,), hours=())))

    assert plain(printed).count(plain(markup)) >= 4
