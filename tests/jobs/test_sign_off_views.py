"""Sign-offs as the office works on them, and as whoever holds a link answers them."""

import datetime
import re
from typing import Any

import pytest
from django.core import mail
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from jobs.approvals import printed, shown_sheet
from jobs.models import Answer, Commission, LinkKind, SignOff, SignOffAnswer, Stage
from jobs.services import sign_offs as services
from jobs.services.photos import photo_path
from jobs.services.scans import NotAScan, read_scan, scan_path
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_person, signed_in
from tests.jobs.link_samples import give_link
from tests.jobs.sign_off_life import STAND_IN, drafted, jpeg, office, sent, shown_photo, signed
from tests.jobs.stage_life import in_hand, make_ready, the
from tests.studio.pdf_reading import elements, opened, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]
ANSWER = {"answer": "approved", "words": "", "name": "Ada Penrose", "role": "Clerk"}


@pytest.fixture
def pattern() -> Stage:
    stage = the(in_hand(), "pattern")
    make_ready(stage)
    return the(stage.commission, "pattern")


@pytest.fixture
def commission(pattern: Stage) -> Commission:
    return pattern.commission


@pytest.fixture
def desk() -> Client:
    client = Client()
    client.force_login(office())
    return client


def page(client: Client, address: str, status: int = 200) -> str:
    response = client.get(address)
    assert response.status_code == status, address
    return str(response.content.decode())


def held(row: SignOff) -> str:
    """The address of a link to it."""
    token = give_link(row.commission, kind=LinkKind.SIGN_OFF, sign_off=row).token
    return f"/l/{token}/sign-off/"


def test_from_the_stage_to_a_link_that_is_answered_and_the_stage_passes(
    desk: Client, pattern: Stage, commission: Commission, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("jobs.approvals.sign_off_document", lambda *_, **__: STAND_IN)
    stage = page(desk, f"/stages/{pattern.code}/")
    begin = re.findall(r'href="([^"]*sign-offs/new[^"]*)"', stage)[0]
    form = page(desk, begin)
    assert "The form of the pattern at full size" in form
    assert "Base: 1.5 m wide, 1.5 m deep, 0.9 m high." in form.replace("\u00a0", " ")
    given = {
        "version": "0", "asked_of": "Ada Penrose", "what": "The form", "revision": "", "dimensions": "", "colour": "",
        "costs_after": "The mould is made anew", "answer_by": "2026-03-09", "stages": [str(pattern.pk)],
    }  # fmt: skip
    empty = desk.post(begin, {**given, "what": "", "answer_by": "soon"})
    assert empty.status_code == 422
    assert "Say what is being approved." in empty.content.decode()
    assert "The mould is made anew" in empty.content.decode()
    desk.post(begin, given)
    row = SignOff.objects.get()
    draft = page(desk, f"/sign-offs/{row.pk}/")
    agreed = re.findall(r'name="agreed" value="([0-9a-f]{64})"', draft)[0]
    assert desk.post(f"/sign-offs/{row.pk}/send/", {"agreed": "0"}).status_code == 409
    assert desk.post(f"/sign-offs/{row.pk}/link/", {"receiver": "A"}).status_code == 409
    desk.post(f"/sign-offs/{row.pk}/send/", {"agreed": agreed})
    row.refresh_from_db()
    assert row.sha256 == agreed
    assert "before the commissioner since" in page(desk, f"/stages/{pattern.code}/")
    until = timezone.localdate() + datetime.timedelta(days=9)
    made = desk.post(f"/sign-offs/{row.pk}/link/", {"receiver": "Ada Penrose", "expires_on": until}).content.decode()
    assert "An answer by 9 March 2026 keeps the programme." in made
    address = re.findall(r"/l/[\w-]{43}/sign-off/", made)[0]

    outside = Client()
    seen = page(outside, address)
    assert "The mould is made anew" in seen
    outside.post(address, {**ANSWER, "of_sha256": row.sha256})
    assert "This was answered and stands as it is." in page(outside, address)
    passed = desk.post(f"/stages/{pattern.code}/move/", {"act": "pass"}, follow=True).content.decode()
    assert "Base, pattern has passed." in passed
    assert "Signed by Ada Penrose" in page(desk, f"/stages/{pattern.code}/")
    assert "by the link of Ada Penrose" in page(desk, f"/commissions/{commission.pk}/record/")


def test_reading_a_link_changes_nothing_and_a_bad_answer_says_what_to_do(
    commission: Commission, pattern: Stage
) -> None:
    row = sent(commission, pattern)
    outside, address = Client(), held(row)
    for _ in range(10):
        page(outside, address)
        page(outside, address + "sheet.pdf")
    assert not SignOffAnswer.objects.exists()
    for wrong, told in (
        ({"answer": ""}, "Choose one of the three answers."),
        ({"answer": "withdrawn"}, "Choose one of the three answers."),
        ({"answer": "not_yet"}, "Enter what has to change first."),
        ({"answer": "comments"}, "Enter your comments."),
        ({"name": " "}, "Enter your name; it stands for your signature."),
    ):
        refused = outside.post(address, {**ANSWER, "of_sha256": row.sha256, **wrong})
        assert (refused.status_code, told in refused.content.decode()) == (422, True), wrong
    other = outside.post(address, {**ANSWER, "of_sha256": "0" * 64})
    assert other.status_code == 409
    assert "Nothing was recorded" in other.content.decode()
    assert not SignOffAnswer.objects.exists()


def test_an_answer_is_given_once_and_can_be_read_afterwards(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern)
    first, second = held(row), held(row)
    outside = Client()
    words = {"answer": "not_yet", "words": "The nose is too long", "of_sha256": row.sha256}
    outside.post(first, {**ANSWER, **words})
    late = outside.post(second, {**ANSWER, "of_sha256": row.sha256})
    assert late.status_code == 409
    for address in (first, second):
        seen = page(outside, address)
        assert "The nose is too long" in seen
        assert "Give this answer" not in seen
    assert SignOffAnswer.objects.get().answer == Answer.NOT_YET


def test_a_link_shows_its_own_sheet_and_photos_and_no_other(commission: Commission, pattern: Stage) -> None:
    photo = shown_photo(commission)
    row = sent(commission, pattern, photos=[photo])
    address, outside = held(row), Client()
    picture = outside.get(address + "photos/1.jpg")
    assert b"".join(picture.streaming_content) == photo_path(photo.sha256, small=False).read_bytes()
    for elsewhere in ("photos/0.jpg", "photos/2.jpg"):
        page(outside, address + elsewhere, 404)
    page(outside, f"/l/{give_link(commission).token}/sign-off/", 404)
    page(outside, f"/l/{give_link(commission, kind=LinkKind.SIGN_OFF).token}/sign-off/", 404)
    services.withdraw(by=office(), sign_off=row, reason="The wrong photo", at=timezone.now())
    assert "has withdrawn this sheet" in page(outside, address)
    assert outside.post(address, {**ANSWER, "of_sha256": row.sha256}).status_code == 409


def test_the_paper_says_what_the_page_says(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern, photos=[shown_photo(commission, "The pattern & its “nose”")])
    sheet = shown_sheet(SignOff.objects.get(pk=row.pk))
    pdf = printed(sheet)
    said, seen = text(pdf), page(Client(), held(row)).replace("&amp;", "&")
    shown = [*sheet.what, *sheet.dimensions, *sheet.costs_after, sheet.revision, sheet.colour, sheet.asked_of]
    shown += [sheet.kind, *sheet.covers, *(photo.caption for photo in sheet.photos), sheet.head.number, row.sha256]
    for words in shown:
        assert words in said, words
        assert words in seen, words
    assert "9 Mar 2026" in said
    assert ">9 Mar 2026</time>" in seen
    document = opened(pdf)
    assert document.Root.MarkInfo.Marked
    tags = {str(element.S) for element in elements(document)}
    assert {"/H1", "/H2", "/Table", "/Figure", "/L"} <= tags
    assert all("/Alt" in element for element in elements(document) if element.S == "/Figure")


def test_the_commissioner_sees_no_maker_hour_or_cost(commission: Commission, pattern: Stage) -> None:
    make_person(Role.BENCH, shown_name="Sentinel Maker", username="sentinel")
    office()
    type(office()).objects.filter(pk=office().pk).update(shown_name="Sentinel Office")
    Stage.objects.filter(pk=pattern.pk).update(allowed_minutes=7_777 * 60)
    row = sent(commission, the(commission, "pattern"), photos=[shown_photo(commission)])
    outside, address = Client(), held(row)
    seen = [page(outside, address), text(printed(shown_sheet(row)))]
    outside.post(address, {**ANSWER, "of_sha256": row.sha256})
    seen.append(page(outside, address))
    for words in ("Sentinel", "7777", "7,777"):
        assert not [each for each in seen if words in each], words


def test_a_signed_sheet_is_filed_and_given_to_the_office_alone(
    desk: Client, commission: Commission, pattern: Stage
) -> None:
    row = sent(commission, pattern, at=timezone.now())
    paper = {**ANSWER, "of_sha256": row.sha256, "answered_on": timezone.localdate().isoformat()}
    address = f"/sign-offs/{row.pk}/"
    for file, told in (
        (SimpleUploadedFile("a.pdf", b"%PDF-1.7 cut off"), "breaks off before its end"),
        (SimpleUploadedFile("a.jpg", b"<html>"), "is not a photo that can be read"),
    ):
        refused = desk.post(f"{address}paper/", {**paper, "scan": file})
        assert (refused.status_code, told in refused.content.decode()) == (422, True)
        assert "Ada Penrose" in refused.content.decode()
    old = desk.post(f"{address}paper/", {**paper, "answered_on": "2020-01-31", "scan": SimpleUploadedFile("a", jpeg())})
    assert "not before it was sent" in old.content.decode()
    whole = b"%PDF-1.7\nsigned\n%%EOF\n"
    desk.post(f"{address}paper/", {**paper, "scan": SimpleUploadedFile("../../x.pdf", whole)})
    given = SignOffAnswer.objects.get()
    assert (given.recorded_by, given.scan_kind) == (office(), "pdf")
    assert scan_path(given.scan_sha256, "pdf").read_bytes() == whole
    got = desk.get(f"{address}scan/")
    assert b"".join(got.streaming_content) == whole
    assert got["Content-Disposition"].startswith("attachment")
    assert signed_in(Role.BENCH).get(f"{address}scan/").status_code == 403
    assert Client().get(f"{address}scan/").status_code == 302
    assert not the(commission, "pattern").lacks_sign_off


def test_a_photo_of_a_signed_sheet_is_made_again() -> None:
    kind, kept = read_scan(jpeg())
    assert (kind, kept[:3]) == ("jpg", b"\xff\xd8\xff")
    with pytest.raises(NotAScan, match="A PDF can be sent as well"):
        read_scan(b"")


def test_what_is_overdue_stands_on_the_workshop_with_a_reminder_to_copy(
    desk: Client, commission: Commission, pattern: Stage
) -> None:
    row = sent(commission, pattern, answer_by=timezone.localdate() - datetime.timedelta(days=3))
    assert "3 days overdue" in page(desk, "/")
    assert "3 days overdue" in page(desk, f"/commissions/{commission.pk}/commissioner/")
    assert f"we sent you sign-off {row.full_number}" in page(desk, f"/sign-offs/{row.pk}/")
    assert "overdue" not in page(signed_in(Role.BENCH), "/")
    services.answer(by=office(), sign_off=row, signed=signed(row), at=timezone.now())
    assert "overdue" not in page(desk, "/")


def test_two_people_change_a_draft_and_the_second_loses_nothing(desk: Client, commission: Commission) -> None:
    row = drafted(commission)
    given = {
        "version": "0", "asked_of": "Ada", "what": "Theirs", "costs_after": "More", "answer_by": "2026-03-09"
    }  # fmt: skip
    desk.post(f"/sign-offs/{row.pk}/change/", given)
    second = desk.post(f"/sign-offs/{row.pk}/change/", {**given, "what": "Mine"})
    assert second.status_code == 409
    assert "Mine" in second.content.decode()
    assert "Theirs" in second.content.decode()
    sent_row = sent(commission)
    late = desk.post(f"/sign-offs/{sent_row.pk}/change/", {**given, "version": str(sent_row.version)})
    assert late.status_code == 422
    assert "was sent and is never altered" in late.content.decode()
    assert desk.post(f"/sign-offs/{sent_row.pk}/discard/").status_code == 409
    assert desk.post(f"/sign-offs/{sent_row.pk}/withdraw/", {"reason": ""}).status_code == 422
    desk.post(f"/sign-offs/{row.pk}/discard/")
    assert [each.pk for each in commission.sign_offs.all()] == [sent_row.pk]


def test_the_bench_reads_what_was_approved_and_opens_no_sign_off(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern)
    services.answer(by=office(), sign_off=row, signed=signed(row), at=timezone.now())
    bench = signed_in(Role.BENCH)
    seen = page(bench, f"/stages/{pattern.code}/")
    assert "Approved is Drawing LP-2, revision C, RAL 6011." in seen
    page(bench, f"/sign-offs/{row.pk}/", 403)
    page(bench, f"/commissions/{commission.pk}/sign-offs/", 403)


def test_a_reminder_is_copied_and_where_there_is_a_mail_server_sent(
    desk: Client, pattern: Stage, settings: Any
) -> None:
    row = sent(pattern.commission, pattern)
    address = f"/sign-offs/{row.pk}/remind/"
    assert "Send the reminder" not in page(desk, f"/sign-offs/{row.pk}/")
    assert desk.post(address, {"to": "ada@parish.example"}).status_code == 404
    settings.EMAIL_HOST = "mail.example"
    assert "Send the reminder" in page(desk, f"/sign-offs/{row.pk}/")
    refused = desk.post(address, {"to": "ada at the parish"})
    assert refused.status_code == 422
    assert 'value="ada at the parish"' in refused.content.decode()
    assert mail.outbox == []
    assert desk.post(address, {"to": "ada@parish.example"}).status_code == 302
    (message,) = mail.outbox
    assert message.to == ["ada@parish.example"]
    assert row.full_number in message.subject
    assert "keeps the programme" in message.body
    assert AuditEntry.objects.about(row.commission.subject).first().after == {"to": "ada@parish.example"}
