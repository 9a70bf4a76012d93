"""The hand-over record: from what was really done to a page that stays with the piece."""

import datetime
import re
import uuid
from decimal import Decimal

import pytest
import zxingcpp
from django.db import Error, connection, transaction
from django.test import Client
from django.utils import timezone
from PIL import Image, ImageDraw

from jobs.documents import code_svg
from jobs.figures.hand_over_texts import LIFTING
from jobs.hand_overs.record import begun_record, hand_over_sheet, piece_of, printed_record, shown_record
from jobs.models import Commission, CommissionState, Fate, HandOver, LinkKind, PieceEvent, PieceNote, Section, Stage
from jobs.services import hand_overs as services
from jobs.services import stages
from jobs.services.issues import give_back
from jobs.services.issues import issue as issue_material
from jobs.services.piece_notes import MOST_WAITING
from jobs.sheets import lifting
from jobs.sheets.kind import show_subject
from jobs.sheets.known import Job, Subject
from materials.models import Item
from materials.units import format_quantity
from studio.accounts.models import Role, User
from tests.factories import make_base, make_lot, make_person, signed_in
from tests.jobs.link_samples import give_link
from tests.jobs.sign_off_life import STAND_IN, office, shown_photo
from tests.jobs.stage_life import in_hand, make_passed, the
from tests.studio.pdf_reading import elements, opened, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]
TODAY = timezone.localdate()


@pytest.fixture
def commission() -> Commission:
    found = in_hand(keys=("pattern", "cast"))
    Commission.objects.filter(pk=found.pk).update(colour="RAL 6011 reseda green", place="The gate")
    return Commission.objects.get(pk=found.pk)


@pytest.fixture
def desk() -> Client:
    client = Client()
    client.force_login(office())
    return client


def particulars(commission: Commission, **values: object) -> services.Particulars:
    return services.Particulars(**{**begun_record(commission, TODAY), "photos": [], **values})  # type: ignore[arg-type]


def issued(commission: Commission, *, closes: bool = False, **values: object) -> HandOver:
    row = services.draft(by=office(), commission=commission, given=particulars(commission, **values))
    sheet = hand_over_sheet(row, TODAY)
    services.issue(
        by=office(), row=row, version=row.version, sheet=sheet, pdf=STAND_IN, closes=closes, at=timezone.now()
    )
    return HandOver.objects.get(pk=row.pk)


def happened(commission: Commission, kind: Fate = Fate.INSPECTED, **values: object) -> PieceEvent:
    said = {"on": TODAY, "place": "", "by_whom": "Harrow Fixings", "words": "Nothing loose", "at": timezone.now()}
    return services.note_event(by=office(), commission=commission, kind=kind, **{**said, **values})  # type: ignore[arg-type]


def page(client: Client, address: str, status: int = 200) -> str:
    response = client.get(address)
    assert response.status_code == status, address
    return str(response.content.decode())


def used(stage: Stage, batch: str, quantity: str = "2", cast: int | None = None) -> None:
    lot = make_lot(Item.objects.get(key="laminating_resin"), batch=batch, by=office())
    issue_material(by=office(), stage=stage, lot=lot, quantity=Decimal(quantity), key=uuid.uuid4(), cast=cast)


def test_it_is_made_from_what_was_really_done(commission: Commission) -> None:
    pattern, cast = the(commission, "pattern"), the(commission, "cast")
    at = make_passed(pattern)
    used(pattern, "P-1")
    used(cast, "LR 2608-14", cast=1)
    used(cast, "BACK-1")
    back = cast.issues.get(movement__lot__batch="BACK-1")
    give_back(by=office(), stage=cast, lot=back.movement.lot, quantity=Decimal(2), key=uuid.uuid4())
    row = services.draft(by=office(), commission=commission, given=particulars(commission))
    sheet = hand_over_sheet(row, TODAY)
    (base,) = sheet.sections
    facts = dict(base.facts)
    assert "layers of glass mat" in facts["Cast"]
    assert "Pattern" not in facts
    assert base.passed == (("Pattern", timezone.localdate(at)),)
    assert [(batch.batch, batch.used_in) for batch in sheet.batches] == [("LR 2608-14", ("Base, cast 1",))]
    assert [(given.number, given.by) for given in sheet.approvals] == [("26-001 / S1", "R. Osei, Head gardener")]
    assert any("RAL 6011 reseda green" in point for point in sheet.paint)
    assert "kg" in sheet.mass[0]
    assert "above its foot" in sheet.balance[0]


def test_a_piece_of_thirty_sections_has_its_record(desk: Client) -> None:
    names = [f"Slab {number}" for number in range(1, 31)]
    commission = in_hand(sections=names, keys=("cast",))
    begun = begun_record(commission, TODAY)
    assert str(begun["mass"]).count("\n") >= len(names)
    sent = desk.post(f"/commissions/{commission.pk}/hand-over/new/", begun | {"version": 0})
    assert sent.status_code == 302
    sheet = hand_over_sheet(commission.hand_overs.get(), TODAY)
    assert len(sheet.sections) == len(names)
    assert all(any(f"{name}:" in point for point in sheet.mass) for name in names)


def test_the_draft_says_what_lifting_sheet_and_base_say(desk: Client, commission: Commission) -> None:
    Section.objects.filter(commission=commission).update(metal="9 kg")
    section = commission.sections.get()
    assert begun_record(commission, TODAY)["lifting"] == LIFTING
    sheet = show_subject(lifting.KIND, Subject(Job(commission), section)).answer
    assert sheet is not None
    mass = format_quantity(sheet.value.balance.mass.value, "mass", "metric")
    height = format_quantity(sheet.value.balance.height.value, "length", "metric")
    make_base(commission)
    kept = {"section": section.pk, "legs": "4", "sharing": "stiff", "hitch": "straight", "points": "0.85 m"}
    keep = f"/commissions/{commission.pk}/sheets/lifting/keep/"
    assert desk.post(keep, {**kept, "out": "0.55 m", "hook": "0.9 m"}).status_code == 302
    begun = {name: str(said).splitlines() for name, said in begun_record(commission, TODAY).items()}
    assert begun["mass"][0].startswith(f"One cast of Base: {mass} (shell + metalwork), estimated")
    assert begun["balance"][0] == f"One cast of Base: balances {height} above its foot, estimated"
    again = show_subject(lifting.KIND, Subject(Job(commission), section)).answer
    assert again is not None
    said = begun["lifting"][0].replace("\u00a0", " ")
    assert said.startswith(
        "One cast of Base: 4 legs, straight to shackles, points 850 mm above its foot and 550 mm from the middle, "
        "the hook 900 mm above them. It hangs upright"
    )
    assert begun["lifting"][0].endswith(again.headline)
    # The plate that was entered weighs 40 kg, and lowers the balance of the whole.
    assert begun["mass"][1].startswith("The whole: ")
    whole = show_subject(lifting.WHOLE, Subject(Job(commission))).answer
    assert whole is not None
    assert whole.value.balance.mass.value == pytest.approx(sheet.value.balance.mass.value + 40)
    assert format_quantity(whole.value.balance.height.value, "length", "metric") in begun["balance"][1]
    assert begun["fixings"][0] == "Plate 400 by 300 mm, 15 mm thick, 40 kg with legs and fittings; holes: 4 for M16"
    assert "-150 100 M16" in begun["fixings"][1]
    assert begun["fixings"][2] == "Legs, the same way: 0 0, 60 mm, leaning 15° towards 90°"


def test_it_is_frozen_and_a_correction_is_the_next_version(commission: Commission) -> None:
    first = issued(commission, photos=[shown_photo(commission)])
    event = happened(commission)
    frozen = [
        ("UPDATE jobs_handover SET mass = 'else' WHERE id = %s", [first.pk]),
        ("DELETE FROM jobs_handover WHERE id = %s", [first.pk]),
        ("DELETE FROM jobs_handover_photos WHERE handover_id = %s", [first.pk]),
        ("UPDATE jobs_pieceevent SET words = 'else' WHERE id = %s", [event.pk]),
        ("DELETE FROM jobs_pieceevent WHERE id = %s", [event.pk]),
    ]
    for sql, given in frozen:
        with pytest.raises(Error), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(sql, given)
    with pytest.raises(services.HandOverRefused, match="is never altered"):
        services.change(by=office(), row=first, version=first.version, given=particulars(commission))
    kept = shown_record(first)
    Commission.objects.filter(pk=commission.pk).update(title="Another", place="Elsewhere")
    assert shown_record(HandOver.objects.get(pk=first.pk)) == kept
    commission.refresh_from_db()
    second = issued(commission, mass="19.5 kg, weighed")
    assert (second.number, second.handed_on) == (2, first.handed_on)
    piece = piece_of(commission)
    assert piece is not None
    assert piece.shown.mass == ("19.5 kg, weighed",)


def test_there_is_one_draft_and_none_before_the_work_is_agreed(commission: Commission) -> None:
    services.draft(by=office(), commission=commission, given=particulars(commission))
    with pytest.raises(services.HandOverRefused, match="There is a draft"):
        services.draft(by=office(), commission=commission, given=particulars(commission))
    Commission.objects.filter(pk=commission.pk).update(state=CommissionState.QUOTED)
    with pytest.raises(services.HandOverRefused, match="has not been accepted yet"):
        services.draft(by=office(), commission=commission, given=particulars(commission))


def test_the_commission_is_closed_with_it_once_all_stages_have_passed(commission: Commission) -> None:
    with pytest.raises(services.HandOverRefused, match="has not passed yet"):
        issued(commission, closes=True)
    make_passed(the(commission, "cast"), make_passed(the(commission, "pattern")))
    HandOver.objects.filter(issued_at=None).delete()
    issued(commission, closes=True)
    commission.refresh_from_db()
    assert commission.state == CommissionState.DONE
    with pytest.raises(stages.StageRefused, match="stand still"):
        stages.reopen(by=office(), stage=the(commission, "cast"), reason="A crack", at=timezone.now())


def test_what_happens_later_is_written_down_once_and_moves_the_piece(commission: Commission) -> None:
    with pytest.raises(services.HandOverRefused, match="has not been handed over"):
        happened(commission)
    issued(commission, handed_on=TODAY - datetime.timedelta(days=400))
    with pytest.raises(services.HandOverRefused, match="between the hand-over and today"):
        happened(commission, on=TODAY + datetime.timedelta(days=1))
    with pytest.raises(services.HandOverRefused, match="where it stands now"):
        happened(commission, Fate.MOVED)
    assert happened(commission) == happened(commission)
    happened(commission, Fate.MOVED, place="Eastmere quay", words="By lorry, upright")
    piece = piece_of(commission)
    assert piece is not None
    assert piece.stands == "Eastmere quay"
    assert piece.inspect_by.year == TODAY.year + 1
    assert len(piece.events) == 2


def test_the_office_drafts_issues_and_gives_the_piece_its_code(
    desk: Client, commission: Commission, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("jobs.hand_overs.record.hand_over_document", lambda *_, **__: STAND_IN)
    overview = f"/commissions/{commission.pk}/hand-over/"
    assert overview in page(desk, f"/commissions/{commission.pk}/commissioner/")
    begun = page(desk, f"{overview}new/")
    fields = re.findall(r'<textarea name="(\w+)"[^>]*>\s*(.*?)</textarea>', begun, flags=re.DOTALL)
    given = dict(fields) | {
        "version": "0", "handed_to": "R. Osei", "handed_on": TODAY.isoformat(), "inspect_months": "12"
    }  # fmt: skip
    wrong = desk.post(f"{overview}new/", {**given, "mass": "", "inspect_months": "0"})
    assert wrong.status_code == 422
    assert "Enter the mass, as weighed or estimated." in wrong.content.decode()
    refused = desk.post(f"{overview}link/", {"receiver": "The keeper"})
    assert (refused.status_code, "Issue the record first" in refused.content.decode()) == (422, True)
    desk.post(f"{overview}new/", given)
    row = HandOver.objects.get()
    agreed = re.findall(r'name="agreed" value="([0-9a-f]{64})"', page(desk, f"/hand-overs/{row.pk}/"))[0]
    assert desk.post(f"/hand-overs/{row.pk}/issue/", {"agreed": "0"}).status_code == 409
    assert desk.post(f"/hand-overs/{row.pk}/issue/", {"agreed": agreed, "closes": "yes"}).status_code == 409
    desk.post(f"/hand-overs/{row.pk}/issue/", {"agreed": agreed})
    row.refresh_from_db()
    assert row.sha256 == agreed
    said = {"kind": "moved", "on": TODAY.isoformat(), "by_whom": "Eastmere Cranes", "words": "Upright"}
    assert desk.post(f"{overview}events/", said).status_code == 422
    desk.post(f"{overview}events/", {**said, "place": "Eastmere quay"})
    made = desk.post(f"{overview}link/", {"receiver": "Whoever looks after it"}).content.decode()
    assert 'aria-label="Code for the piece"' in made
    address = re.findall(r"/l/[\w-]{43}/piece/", made)[0]
    seen = page(Client(), address)
    assert "Eastmere quay" in seen
    assert "Eastmere Cranes" in seen
    assert Client().get(address + "record.pdf").content == STAND_IN


def test_the_paper_says_what_the_piece_s_page_says_and_nothing_of_cost_hours_or_makers(commission: Commission) -> None:
    maker = make_person(Role.BENCH, shown_name="Sentinel Maker", username="sentinel")
    User.objects.filter(pk=office().pk).update(shown_name="Sentinel Office")
    make_passed(the(commission, "pattern"))
    Stage.objects.filter(commission=commission).update(allowed_minutes=7_777 * 60)
    used(the(commission, "cast"), "LR 2608-14")
    row = issued(commission, photos=[shown_photo(commission, "In its place")])
    happened(commission)
    sheet = shown_record(row)
    pdf = printed_record(sheet)
    said = text(pdf)
    address = f"/l/{give_link(commission, kind=LinkKind.PIECE, expires_on=None).token}/piece/"
    outside = Client()
    seen = page(outside, address)
    flat = re.sub(r"\s+", " ", seen.replace("&#x27;", "'").replace("&quot;", '"'))
    shown = [*sheet.mass, *sheet.balance, *sheet.lifting, *sheet.fixings, *sheet.paint, *sheet.care]
    shown += [*sheet.repairs, *sheet.cautions, sheet.handed_to, sheet.commissioner, row.sha256, "LR 2608-14"]
    shown += [sentence for section in sheet.sections for _, sentence in section.facts]
    for words in shown:
        words = re.sub(r"\s+", " ", words)
        assert words in said, words
        assert words in flat.replace("\u00a0", " "), words
    for words in ("Sentinel", maker.shown_name, "7777", "7,777", "£"):
        assert words not in said + seen, words
    document = opened(pdf)
    assert document.Root.MarkInfo.Marked
    assert all("/Alt" in element for element in elements(document) if element.S == "/Figure")
    picture = outside.get(address + "photos/1.jpg")
    assert b"".join(picture.streaming_content).startswith(b"\xff\xd8\xff")
    page(outside, address + "photos/2.jpg", 404)


def test_a_piece_s_link_opens_nothing_before_the_record_and_no_other_kind(commission: Commission) -> None:
    piece = give_link(commission, kind=LinkKind.PIECE, expires_on=None)
    page(Client(), f"/l/{piece.token}/piece/", 404)
    issued(commission)
    page(Client(), f"/l/{piece.token}/piece/")
    page(Client(), f"/l/{give_link(commission).token}/piece/", 404)
    bench = signed_in(Role.BENCH)
    page(bench, f"/commissions/{commission.pk}/hand-over/", 403)


def test_a_note_by_the_code_is_read_by_the_office_before_it_stands_anywhere(
    desk: Client, commission: Commission
) -> None:
    issued(commission)
    address = f"/l/{give_link(commission, kind=LinkKind.PIECE, expires_on=None).token}/piece/"
    keeper = Client(enforce_csrf_checks=True)
    assert keeper.post(address, {"name": "A", "words": "B"}).status_code == 403
    keeper = Client()
    empty = keeper.post(address, {"name": "Pontoon watch", "words": " "})
    assert (empty.status_code, "Say what you saw or did." in empty.content.decode()) == (422, True)
    assert "Pontoon watch" in empty.content.decode()
    for _ in range(2):
        told = keeper.post(address, {"name": "Pontoon watch", "words": "A cap is <b>gone</b>"}).content.decode()
        assert "It is read before anything of it stands here." in told
    for number in range(MOST_WAITING - 1):
        keeper.post(address, {"name": "Pontoon watch", "words": f"Growth {number}"})
    full = keeper.post(address, {"name": "Pontoon watch", "words": "And more"})
    assert (full.status_code, "And more" in full.content.decode()) == (409, True)
    assert "A cap is" not in page(keeper, address)
    assert "waits to be read" in page(desk, "/")
    assert "waits to be read" not in page(signed_in(Role.BENCH), "/")
    overview = page(desk, f"/commissions/{commission.pk}/hand-over/")
    assert "A cap is &lt;b&gt;gone&lt;/b&gt;" in overview
    kept, *others = PieceNote.objects.all()
    assert desk.post(f"/piece-notes/{kept.pk}/settle/", {"act": "burn"}).status_code == 422
    desk.post(f"/piece-notes/{kept.pk}/settle/", {"act": "keep"})
    for note in others:
        desk.post(f"/piece-notes/{note.pk}/settle/", {"act": "aside"})
    desk.post(f"/piece-notes/{kept.pk}/settle/", {"act": "keep"})
    assert [(event.kind, event.by_whom) for event in commission.piece_events.all()] == [("noted", "Pontoon watch")]
    seen = page(keeper, address)
    assert "A cap is" in seen
    assert "Growth" not in seen
    assert "waits to be read" not in page(desk, "/")


def test_the_code_on_the_piece_opens_its_page() -> None:
    address = f"https://studio.example/l/{'Ab-_' * 11}/piece/"
    svg = code_svg(address, title="Code")
    side = int(re.findall(r'viewBox="0 0 (\d+) ', svg)[0])
    image = Image.new("L", (side * 4, side * 4), 255)
    pen = ImageDraw.Draw(image)
    for x, y in re.findall(r"M(\d+) (\d+)", svg):
        left, top = (int(x) + 4) * 4, (int(y) + 4) * 4
        pen.rectangle((left, top, left + 3, top + 3), fill=0)
    assert [found.text for found in zxingcpp.read_barcodes(image)] == [address]
