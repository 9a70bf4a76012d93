"""The handling and lifting sheets, the slings, the base and its template, as people use them."""

import datetime
from itertools import pairwise

import pikepdf
import pytest
from django.test import Client
from django.utils import timezone

from jobs.delivery.balance import balanced
from jobs.loads import cast_load
from jobs.models import CommissionBase, Section, Sling
from jobs.sheets.known import Job, Subject
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_base, make_commission, make_section, signed_in
from tests.studio.pdf_reading import opened, pages, text

pytestmark = pytest.mark.django_db
MM = 72 / 25.4
BASE = {
    "version": "0",
    "length": "400 mm",
    "width": "30 cm",
    "thickness": "15 mm",
    "mass": "40 kg",
    "bolts": "150 100 16\r\n-150 100 16\r\n-150 -100 16\r\n150 -100 16",
    "legs": "0 0 60 15 90",
}


def pear_foot(**values: object) -> Section:
    return make_section(make_commission(), metal="12 kg", **values)


def page(client: Client, section: Section, kind: str, **asked: object) -> str:
    answer = client.get(f"/commissions/{section.commission_id}/sheets/{kind}/", {"section": section.pk, **asked})
    assert answer.status_code == 200, answer.content.decode()
    return answer.content.decode().replace("\u202f", "").replace("\xa0", " ")


def test_the_handling_sheet_says_how_many_people_and_why() -> None:
    section, client = pear_foot(pieces=4), signed_in(Role.BENCH)
    piece = page(client, section, "handling", stage="mould", who="higher", reach="close", depth="0.2 m")
    assert "people lift it, by the guideline filter." in piece or "Not by hand" in piece
    assert "on average of 4" in piece
    assert "Pieces differ" in piece
    heavy = page(client, section, "handling", stage="cast")
    assert "Not by hand" in heavy
    assert "balances" in heavy
    light = make_section(
        section.commission,
        "Leaf",
        shape="sphere",
        dimensions={"diameter": "0.3 m"},
    )
    alone = page(client, light, "handling", stage="cast")
    assert "One person lifts it" in alone
    assert "Lifting index" in alone
    refused = page(client, light, "handling", stage="cast", way="one_hand")
    assert "does not apply to lifting with one hand" in refused
    assert "The filter does not hold for lifting with one hand either" in refused
    answer = client.get(
        f"/commissions/{section.commission_id}/sheets/handling/", {"section": light.pk, "stage": "cast", "pick": "3 m"}
    )
    assert answer.status_code == 422
    assert "picked up is 3 m" in answer.content.decode()


def test_steel_pulls_the_balance_to_where_it_was_said_to_be() -> None:
    # Σ(mass × height) ÷ Σ mass, the definition of a centre of mass; the ball's own skin balances in its middle.
    commission = make_commission()
    ball = {"shape": "sphere", "dimensions": {"diameter": "1 m"}, "metal": "20 kg"}
    plain = make_section(commission, "Plain", **ball)
    plate = make_section(commission, "Plate", **ball, metal_height="0 m", metal_offset="-0.1 m")
    job = Job(commission)
    loads = [balanced(cast_load(Subject(job, section)).parts) for section in (plain, plate)]
    assert loads[0].height.value == pytest.approx(0.5)
    mass_kg = loads[1].mass.value
    assert loads[1].height.value == pytest.approx(0.5 * (mass_kg - 20) / mass_kg)
    assert loads[1].aside.value == pytest.approx(-0.1 * 20 / mass_kg)
    client = signed_in(Role.BENCH)
    assert "taken at half the height, as an armature" in page(client, plain, "lifting")
    assert "taken at half the height" not in page(client, plate, "lifting")
    whole = page(client, plate, "lifting-whole")
    assert "height of the metalwork of Plate" in whole


def test_a_mould_piece_that_hands_cannot_lift_has_a_lifting_sheet_and_takes_what_scales_showed() -> None:
    section, client = pear_foot(pieces=2), signed_in(Role.BENCH)
    light = make_section(section.commission, "Leaf", shape="sphere", dimensions={"diameter": "0.2 m"})
    number = section.commission_id
    listed = client.get(f"/commissions/{number}/sheets/").content.decode()
    assert f"lifting-mould/?section={section.pk}" in listed
    assert f"lifting-mould/?section={light.pk}" not in listed
    shown = page(client, section, "lifting-mould")
    # Points at the top of it are no higher above an estimate than it may be off.
    assert "It may turn over" in shown
    assert "Where a piece balances is an estimate" in shown
    assert "It hangs upright" in page(client, section, "lifting-mould", points="2 m")
    scales = {"scale_left": "30 kg", "scale_right": "50 kg", "scales_apart": "1.2 m"}
    for kind in ("lifting-mould", "handling"):
        weighed = page(client, section, kind, stage="mould", **scales)
        assert "80 kg" in weighed
        assert "Balance point right of the middle: <b>0.15 m</b>" in weighed
        assert "Where a piece balances is an estimate" not in weighed
        assert "It may turn over" not in weighed
    half = client.get(f"/commissions/{number}/sheets/lifting-mould/", {"section": section.pk, "scale_left": "30 kg"})
    assert half.status_code == 422
    assert "what both scales showed" in half.content.decode()


def test_the_lifting_sheet_says_what_hangs_and_what_turns_over() -> None:
    section, client = pear_foot(), signed_in(Role.BENCH)
    upright = page(client, section, "lifting")
    assert "It hangs upright" in upright
    assert "A competent person plans the lift" in upright
    assert "entered no sling" in upright
    over = page(client, section, "lifting", points="0.1 m")
    assert "It will turn over" in over
    flat = client.get(
        f"/commissions/{section.commission_id}/sheets/lifting/", {"section": section.pk, "out": "1 m", "hook": "0.2 m"}
    )
    assert flat.status_code == 422
    assert "between 0 and 60 degrees" in flat.content.decode()


def test_slings_that_hold_it_are_named_and_one_past_its_examination_stays_down() -> None:
    section, office = pear_foot(), signed_in(Role.OFFICE)
    today = timezone.localdate()
    for mark, capacity, due in (
        ("R1", "1 t", today + datetime.timedelta(days=30)),
        ("R4", "1 t", today),
        ("W1", "2 t", today),
        ("R2", "1 t", today - datetime.timedelta(days=1)),
        ("R3", "5 kg", today),
    ):
        sent = {"version": "0", "mark": mark, "kind": "round", "legs": "1", "capacity_kg": capacity, "length_m": "2 m"}
        sent |= {"source": "its label", "checked_on": "2020-06-01"}
        assert office.post("/office/own/sling/new/", {**sent, "examined_until": due.isoformat()}).status_code == 302
    assert office.post("/office/own/sling/new/", {**sent, "mark": "r1"}).status_code == 422
    listed = office.get("/office/slings/").content.decode()
    assert listed.count("its label") == listed.count("due for a check") == 5
    shown = page(office, section, "lifting")
    for alike in ("R1", "R4"):
        assert f">{alike}<" in shown
    assert "R3" not in shown
    assert f"not to be used: R2, its examination was due {today - datetime.timedelta(days=1):%-d %b %Y}; " in shown
    # Two legs to one load are alike.
    assert "W1, there is no other like it." in shown
    row = Sling.objects.get(mark="R2")
    address = f"/office/own/sling/{row.pk}/"
    changed = {**sent, "mark": "R2", "capacity_kg": "1 t", "examined_until": ""}
    assert office.post(address, changed).status_code == 302
    assert office.post(address, {**changed, "length_m": "3 m"}).status_code == 409
    assert "R2, its examination is not known" in page(office, section, "lifting")
    assert office.post(f"{address}remove/").status_code == 302
    assert AuditEntry.objects.filter(act__startswith="Sling").count() == 7


def test_the_whole_is_lifted_with_its_base_where_its_casts_are_those_of_the_drawing() -> None:
    section, office = pear_foot(), signed_in(Role.OFFICE)
    number = section.commission_id
    alone = page(office, section, "lifting-whole")
    assert office.post(f"/commissions/{number}/base/", BASE).status_code == 302
    based = page(office, section, "lifting-whole")
    assert "entered for the base" in based
    assert "entered for the base" not in alone
    assert "lifting-whole" in office.get(f"/commissions/{number}/sheets/").content.decode()
    Section.objects.filter(pk=section.pk).update(pulls=6)
    assert "lift its casts one by one" in page(office, section, "lifting-whole")
    assert "lifting-whole" not in office.get(f"/commissions/{number}/sheets/").content.decode()


def test_the_base_is_kept_as_typed_and_refused_by_its_line() -> None:
    section, office = pear_foot(), signed_in(Role.OFFICE)
    address = f"/commissions/{section.commission_id}/base/"
    for changed, told in (
        ({"bolts": "150 100"}, "Line 1 is"),
        ({"bolts": "250 100 16"}, "lies off the plate"),
        ({"legs": "0 0 60"}, "write 5 numbers"),
        ({"mass": "heavy"}, "mass of the base"),
        ({"length": ""}, "Enter the length"),
    ):
        answer = office.post(address, {**BASE, **changed})
        assert answer.status_code == 422
        assert told in answer.content.decode()
    assert office.post(address, BASE).status_code == 302
    assert office.post(address, BASE).status_code == 409
    assert office.post(address, {**BASE, "version": "0", "mass": "42 kg"}).status_code == 409
    row = CommissionBase.objects.get()
    assert row.width == "30 cm"
    assert office.post(address, {**BASE, "version": str(row.version), "mass": "42 kg"}).status_code == 302
    assert signed_in(Role.BENCH).get(address).status_code == 403


def strokes(pdf: pikepdf.Pdf, number: int) -> list[tuple[float, float, float, float]]:
    """Every straight stroke of a page from point to point, in millimetres from its lower left corner."""
    found: list[tuple[float, float, float, float]] = []

    def walk(content: pikepdf.Object, base: pikepdf.Matrix, resources: pikepdf.Object) -> None:
        at, kept, path = base, [], []
        for operands, operator in pikepdf.parse_content_stream(content):
            name = str(operator)
            if name == "q":
                kept.append(at)
            elif name == "Q":
                at = kept.pop()
            elif name == "cm":
                at = pikepdf.Matrix(*(float(each) for each in operands)) @ at
            elif name in ("m", "l"):
                path.append((name, at.transform((float(operands[0]), float(operands[1])))))
            elif name in ("S", "s", "f", "f*", "n", "B", "b", "W", "W*"):
                for (_, one), (kind, other) in pairwise(path):
                    if kind == "l":
                        found.append((one[0] / MM, one[1] / MM, other[0] / MM, other[1] / MM))
                path = [] if name not in ("W", "W*") else path
            elif name == "Do":
                form = resources.XObject[str(operands[0])]
                inner = pikepdf.Matrix(*(float(each) for each in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))) @ at
                if form.Subtype == "/Form":
                    walk(form, inner, form.get("/Resources", resources))

    sheet = pdf.pages[number]
    walk(sheet, pikepdf.Matrix(), sheet.Resources)
    return found


def test_the_template_is_printed_in_true_size() -> None:
    section = pear_foot()
    number = section.commission_id
    make_base(section.commission)
    bench = signed_in(Role.BENCH)
    made = bench.get(f"/commissions/{number}/sheets/fixings.pdf", {"paper": "a3"}).content
    pdf = opened(made)
    drawn = [place for place, words in enumerate(pages(made)) if "measure this bar" in words]
    assert len(drawn) == 2
    for place in drawn:
        box = [float(each) for each in pdf.pages[place].MediaBox]
        assert box[2] / MM == pytest.approx(297, abs=0.1)
        assert box[3] / MM == pytest.approx(420, abs=0.1)
        lines = strokes(pdf, place)
        # The check bar lies level below the drawing, and nothing else there is as long.
        bars = [abs(x2 - x1) for x1, y1, x2, y2 in lines if y1 == pytest.approx(y2, abs=0.01) and y1 < 26]
        assert max(bars) == pytest.approx(100, abs=0.1)
        # The middles of the bolts' crosses, each (16 + 6) mm across: 300 mm apart across and 200 mm along.
        middles = sorted(
            ((x1 + x2) / 2, y1)
            for x1, y1, x2, y2 in lines
            if abs(x2 - x1) == pytest.approx(22, abs=0.1) and y1 == pytest.approx(y2, abs=0.01)
        )
        assert len(middles) == 4
        assert middles[2][0] - middles[0][0] == pytest.approx(300, abs=0.1)
        assert middles[1][1] - middles[0][1] == pytest.approx(200, abs=0.1)
    assert "Print at 100 %" in text(made).replace("\xa0", " ")
    sheet = page(bench, section, "fixings")
    assert "bolts on" in sheet
    assert "leg 1: 15°" in sheet


def test_a_template_without_a_base_says_where_to_enter_it() -> None:
    section, bench = pear_foot(), signed_in(Role.BENCH)
    assert "Base is missing" in page(bench, section, "fixings")
    assert "fixings" not in bench.get(f"/commissions/{section.commission_id}/sheets/").content.decode()
