"""Crate sheet, cutting plans and the wind screening: what is asked is known, what is decided is obeyed."""

import re
from html import unescape

import pytest
from django.urls import reverse

from jobs.models import Commission, Doorway, RoadLimit, Section, Transport
from jobs.services.bases import set_base
from jobs.sheets import boards, crate, foam, wind
from jobs.sheets.kind import SheetKind, Shown, show
from jobs.sheets.known import Job
from jobs.sheets.registry import BY_KEY
from materials.models import Figure
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_commission, make_person, make_section, signed_in
from tests.studio.pdf_reading import pages, text

pytestmark = pytest.mark.django_db

TALL = {"length": "1.8 m", "width": "0.9 m", "height": "2.2 m"}


@pytest.fixture
def commission() -> Commission:
    found = make_commission()
    make_section(found, "Box", shape="box", dimensions=TALL, pulls=2)
    return found


def shown(kind: SheetKind, commission: Commission, **asked: str) -> Shown:
    return show(kind, Job(commission), asked)


def figure(sheet: Shown, name: str) -> float:
    assert sheet.answer is not None, sheet.refused or sheet.form.errors
    (found,) = [each for each in sheet.answer.all_workings if each.name == name]
    return found.value


def test_a_crate_is_worked_from_the_take_off_alone(commission: Commission) -> None:
    sheet = shown(crate.KIND, commission)
    job = Job(commission)
    assert [figure(sheet, f"{side} outside") for side in ("length", "width", "height")] == pytest.approx(
        [2124, 1224, 2574]
    )
    cast = job.take_off.sections[0].cast
    painted_kg = cast.mass_kg + cast.finish_kg
    assert figure(sheet, "crate with the piece") == pytest.approx(figure(sheet, "empty crate") + painted_kg)
    parts = [figure(sheet, name) for name in ("plywood", "battens", "skids", "pads", "screws and brackets")]
    assert figure(sheet, "empty crate") == pytest.approx(sum(parts))
    assert sheet.answer.value.plan.count >= sheet.answer.value.plan.floor


def test_a_tall_crate_passes_few_doors_and_says_so_first(commission: Commission) -> None:
    verdicts = {row.passage.name: row.verdict for row in shown(crate.KIND, commission).answer.value.vehicles}
    assert verdicts["Luton van with tail lift"] == "does not pass"
    assert verdicts["20 ft container"] == "does not pass"
    lying = shown(crate.KIND, commission, way="back").answer.value
    assert {row.passage.name: row.verdict for row in lying.vehicles}["Box lorry, 18 t"] == "passes"
    Transport.objects.filter(is_open=True).delete()
    Transport.objects.filter(door_height_m__isnull=True).delete()
    stopped = shown(crate.KIND, commission)
    assert stopped.answer.stop
    assert "goes into no vehicle" in stopped.answer.headline


def test_what_the_office_keeps_decides(commission: Commission) -> None:
    Doorway.objects.create(name="Yard gate", width_m=1.3, height_m=3.0)
    RoadLimit.objects.filter(measure="height", above_m=5.03).update(above_m=0.5)
    RoadLimit.objects.filter(measure="height", above_m=3.0).delete()
    Figure.objects.filter(key="crate_skid_side").update(value=0.15)
    sheet = shown(crate.KIND, commission)
    gate = next(row for row in sheet.answer.value.doors if row.passage.name == "Yard gate")
    assert (gate.verdict, gate.spare) == ("tight", "width of the door: 76 mm to spare, 100 mm wanted")
    assert figure(sheet, "height outside") == pytest.approx(2624)
    (height,) = [each for each in sheet.answer.value.road if each.measure == "height"]
    assert height.rule.above_m == 0.5


def test_a_wide_crate_meets_the_road_and_a_border(commission: Commission) -> None:
    Section.objects.update(dimensions={**TALL, "length": "5 m", "width": "2.7 m"})
    sheet = shown(crate.KIND, commission, goes="abroad", vehicle="Flatbed, articulated")
    (width,) = [each for each in sheet.answer.value.road if each.measure == "width"]
    assert "police" in width.rule.action
    assert "ISPM 15" in sheet.answer.value.border


def test_without_doors_vehicles_and_limits_the_sheet_says_what_to_enter(commission: Commission) -> None:
    for model in (Doorway, Transport, RoadLimit):
        model.objects.all().delete()
    page = signed_in(Role.BENCH).get(reverse("sheet", args=[commission.pk, "crate"]))
    body = unescape(page.content.decode())
    assert page.status_code == 200
    assert "No vehicle is known: enter the studio's under Doors and lorries" in body


def test_a_panel_a_little_wider_than_a_sheet_is_pointed_out(commission: Commission) -> None:
    assert any("4 mm larger than whole sheets" in each for each in shown(crate.KIND, commission).answer.cautions)
    less = shown(crate.KIND, commission, clearance="95 mm")
    assert not any("Floor and lid" in each for each in less.answer.cautions)


def test_boards_are_cut_for_every_cast_and_never_below_the_area(commission: Commission) -> None:
    two = shown(boards.KIND, commission)
    assert two.form.cleaned_data["crates"] == 2
    assert figure(two, "sheets") >= figure(two, "fewest sheets by area")
    one = shown(boards.KIND, commission, crates="1")
    assert figure(two, "sheets") <= 2 * figure(one, "sheets")
    assert any("2 casts" in each for each in one.answer.cautions)
    assert one.answer.value == shown(boards.KIND, commission, crates="1").answer.value
    grained = shown(boards.KIND, commission, crates="1", grain="grained")
    assert not any(laid.is_turned for sheet in grained.answer.value.plan.sheets for laid in sheet.laid)


def test_every_part_of_a_plan_is_drawn_and_listed_without_inline_style(commission: Commission) -> None:
    for kind in (boards.KIND, foam.KIND):
        value = shown(kind, commission).answer.value
        for sheet in value.sheets:
            svg = str(sheet.picture.svg)
            assert "style" not in svg
            assert "<script" not in svg
            assert all(f">{part.letter}<" in svg for part in sheet.parts)
            assert len(re.findall("<circle", svg)) == len(sheet.cuts)


def test_foam_that_shares_blocks_is_set_against_the_take_off(commission: Commission) -> None:
    Section.objects.update(dimensions={"length": "1.1 m", "width": "1.1 m", "height": "2.4 m"}, pulls=1)
    sheet = shown(foam.KIND, commission, room="0 mm")
    blocks = Job(commission).take_off.sections[0].pattern.blocks
    assert figure(sheet, "blocks") <= blocks
    assert figure(sheet, "foam bought") == pytest.approx(figure(sheet, "blocks") * 2.4 * 1.2 * 0.6)
    roomier = shown(foam.KIND, commission, room="100 mm")
    assert figure(roomier, "blocks") > figure(sheet, "blocks")


def test_the_wind_quadruples_with_its_speed_and_falls_with_the_terrain(commission: Commission) -> None:
    slow, fast = (shown(wind.KIND, commission, speed=speed).answer.value for speed in ("15", "30"))
    for once, twice in zip(slow.faces, fast.faces, strict=True):
        assert twice.force.value == pytest.approx(4 * once.force.value)
    town = shown(wind.KIND, commission, speed="30", terrain="IV").answer.value
    assert town.pressure.peak.value < fast.pressure.peak.value


def test_the_wind_sheet_knows_shadow_mass_and_base(commission: Commission) -> None:
    # Closed form: a box of 1.8 × 0.9 × 2.2 m, its shadow 3.96 m² from the front and 1.98 m² from the side.
    front, side = shown(wind.KIND, commission).answer.value.faces
    assert front.face.area_m2 == pytest.approx(3.96, rel=1e-6)
    assert side.face.area_m2 == pytest.approx(1.98, rel=1e-6)
    assert (front.face.base.value, side.face.base.value) == pytest.approx((0.9, 1.8))
    assert front.face.arm.value == pytest.approx(0.45, abs=1e-6)
    heavier = shown(wind.KIND, commission, base_mass="900 kg", base_deep="1.5 m").answer.value.faces[0]
    assert heavier.face.base.value == 1.5
    assert heavier.ballast.value < front.ballast.value


def test_the_wind_sheet_presses_a_tall_side_in_strips_and_knows_where_the_steel_stands(
    commission: Commission,
) -> None:
    # EN 1991-1-4 7.2.2, from memory: the side, 2.2 m high and 0.9 m wide, in strips; the front in two at most. Below
    # 2 m of open country the wind is taken as at 2 m, so that the strips below it are one.
    front, side = shown(wind.KIND, commission).answer.value.faces
    assert [len(each.face.pushes) for each in (front, side)] == [2, 2]
    assert side.face.pushes[0].pressure.value < side.face.pushes[1].pressure.value
    plain = (front.face.arm.value, side.face.arm.value)
    Section.objects.update(metal="40 kg", metal_offset="0.3 m")
    answer = shown(wind.KIND, commission).answer
    off_m = 0.3 * 40 / Job(commission).take_off.sections[0].cast.whole_kg
    moved = [each.face.arm.value for each in answer.value.faces]
    assert moved == pytest.approx([plain[0], plain[1] - off_m])


def test_the_wind_knows_the_base_that_was_entered(commission: Commission) -> None:
    values = {
        "length": "1200 mm",
        "width": "1 m",
        "thickness": "12 mm",
        "mass": "140 kg",
        "bolts": "400 300 16",
        "legs": "",
    }
    set_base(by=make_person(Role.OFFICE), commission=commission, version=0, values=values)
    front, side = shown(wind.KIND, commission).answer.value.faces
    assert (front.face.base.value, side.face.base.value) == pytest.approx((1.0, 1.2))
    assert shown(wind.KIND, commission).answer.value.mass.value == pytest.approx(
        Job(commission).take_off.sections[0].cast.whole_kg + 140
    )


def test_a_piece_on_a_point_asks_for_its_base(commission: Commission) -> None:
    Section.objects.update(shape="sphere", dimensions={"diameter": "1.2 m"})
    refused = shown(wind.KIND, commission)
    assert "enter the base that it stands on" in refused.refused
    given = shown(wind.KIND, commission, base_wide="0.8 m", base_deep="0.8 m", shape="force_ball")
    assert given.answer.value.faces[0].face.coefficient.value == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("kind", "asked", "told"),
    [
        ("crate", "clearance=wide", "clearance"),
        ("crate", "clearance=3+m", "between 0 and 1 m"),
        ("crate", "way=upside", "Choose how the piece lies"),
        ("crate", "vehicle=Rocket", "Choose one of the vehicles"),
        ("boards", "crates=13", "too large"),
        ("boards", "crates=0", "too small"),
        ("boards", "grain=x", "Choose whether boards may be turned"),
        ("foam", "room=-1", "room"),
        ("foam", "patterns=1e3", "not a plain number"),
        ("wind", "speed=200", "too large"),
        ("wind", "terrain=V", "Choose what the wind comes over"),
        ("wind", "altitude=9000+m", "Altitude"),
        ("wind", "base_deep=0.001+mm", "falls over by itself"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(commission: Commission, kind: str, asked: str, told: str) -> None:
    page = signed_in(Role.BENCH).get(f"{reverse('sheet', args=[commission.pk, kind])}?{asked}")
    assert page.status_code == 422
    assert told.lower() in unescape(page.content.decode()).lower()


def test_the_pdfs_say_whose_judgement_they_do_not_replace(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    for kind in (crate.KIND, boards.KIND, foam.KIND, wind.KIND):
        pdf = client.get(reverse("sheet_pdf", args=[commission.pk, kind.key])).content
        said = re.sub(r"\s+", " ", text(pdf))
        assert kind.judgement in said
    assert "Screening only: not a structural design." in said


def test_what_is_decided_is_kept_for_both_sheets_of_a_crate_until_it_is_forgotten(commission: Commission) -> None:
    client, section = signed_in(Role.BENCH), commission.sections.get()
    keep = reverse("keep_sheet", args=[commission.pk, "crate"])
    answers = {"section": section.pk, "way": "back", "clearance": "80 mm", "opening": "end", "goes": "abroad"}
    assert client.post(keep, answers).status_code == 302
    crated, cut = shown(crate.KIND, commission), shown(boards.KIND, commission)
    assert (crated.answer.value.crate.way, crated.answer.value.crate.opening) == ("back", "end")
    assert figure(crated, "height inside") == pytest.approx(900 + 160)
    assert cut.form.cleaned_data["way"] == "back"
    assert shown(crate.KIND, commission, way="standing").answer.value.crate.way == "standing"
    assert AuditEntry.objects.filter(act="Kept on the sheet: Crate sheet, Box").count() == 1
    assert client.post(keep, {**answers, "clearance": "3 m"}).status_code == 422
    assert client.post(keep, {"section": section.pk}).status_code == 302
    assert shown(crate.KIND, commission).answer.value.crate.way == "standing"
    assert client.post(reverse("keep_sheet", args=[commission.pk, "layup"])).status_code == 404


@pytest.mark.parametrize("kind", ["crate", "boards", "foam", "layup", "air", "lifting", "handling", "wind"])
def test_the_first_page_of_a_sheet_has_its_cautions_and_the_last_its_workings(
    commission: Commission, kind: str
) -> None:
    section = commission.sections.get()
    printed = signed_in(Role.BENCH).get(
        reverse("sheet_pdf", args=[commission.pk, kind]), {"section": section.pk, "stage": "cast"}
    )
    read = pages(printed.content)
    assert "Cautions" in read[0]
    assert BY_KEY[kind].judgement.split(":")[0][:40] in read[0]
    assert any("How it was worked" in words for words in read)
