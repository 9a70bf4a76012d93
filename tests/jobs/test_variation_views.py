"""Variations on the pages: written, issued, sent by a link, answered; and what they move."""

import re
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import (
    Answer,
    Commission,
    HoldPoint,
    LinkKind,
    SignOff,
    SignOffAnswer,
    Stage,
    StageState,
    Variation,
    VariationAnswer,
)
from jobs.services.snags import Found, add_snag
from jobs.variations import workings
from studio.accounts.models import Role, User
from studio.money import format_minor
from tests.factories import make_person, price_everything, signed_in
from tests.jobs.link_samples import LOOKING, give_link
from tests.jobs.standing_samples import accepted, book, pass_all, stage_of
from tests.jobs.variation_samples import accept_variation, in_words, make_issued_variation, make_variation
from tests.studio.pdf_reading import opened, streams, text

pytestmark = pytest.mark.django_db
RED = ("cost", "margin", "profit", "overhead", "contingency", "labour")


@pytest.fixture
def owner() -> User:
    price_everything(2_000)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    return accepted(owner, "Base", "Crown")


def at(name: str, commission: Commission, *serial: int) -> str:
    return reverse(name, args=[commission.pk, *serial])


def words(**values: str) -> dict[str, str]:
    given = {"version": "0", "origin": "request", "asked_by": "R. Osei, by letter", "title": "Gloss", "scope": "Gloss."}
    return {**given, "days": "", "valid_days": "14", **values}


def rows(version: int, *typed: dict[str, str]) -> dict[str, str]:
    found = {"version": str(version)}
    for number, row in enumerate(typed):
        found |= {f"{name}_{number}": value for name, value in row.items()} | {f"order_{number}": str(number + 1)}
    return found


def holder(commission: Commission, variation: Variation) -> str:
    made = give_link(commission, kind=LinkKind.VARIATION, variation=variation)
    return reverse("held_variation", args=[made.token])


def test_it_is_written_worked_out_and_issued_as_the_page_showed_it(office: Client, commission: Commission) -> None:
    assert "Raise a variation" in office.get(reverse("price", args=[commission.pk])).content.decode()
    response = office.post(at("new_variation", commission), words())
    assert response.headers["Location"] == at("variation", commission, 1)
    assert "Nothing is changed yet" in office.get(at("variation", commission, 1)).content.decode()
    change = {"section": "Base", "becomes": "grade:A", "casts": ""}
    assert office.post(at("variation_sections", commission, 1), rows(0, change)).status_code == 302
    item = in_words()["item"].pk
    line = {"label": "A second delivery", "does": "adds", "item": str(item), "quantity": "1", "stage": ""}
    assert office.post(at("variation_lines", commission, 1), rows(1, line)).status_code == 302
    page = office.get(at("variation", commission, 1))
    shown = page.context["shown"]
    assert [part.label for part in shown.parts] == ["Base, changed as described", "A second delivery"]
    assert "Grade A, gallery gloss" in page.content.decode()
    assert office.post(at("issue_variation", commission, 1), {"seal": "of another page"}).status_code == 409
    seal = page.context["seal"]
    assert office.post(at("issue_variation", commission, 1), {"seal": seal}).status_code == 302
    row = Variation.objects.get()
    assert (row.net_minor, row.gross_minor) == (shown.net_minor, shown.gross_minor)
    pdf = office.get(at("variation_pdf", commission, 1)).content
    assert bytes(row.pdf) == pdf
    document = opened(pdf)
    assert (document.Root.MarkInfo.Marked, str(document.Root.Lang)) == (True, "en-GB")
    assert b"pdfuaid:part" in streams(pdf)
    printed = text(pdf)
    frozen = office.get(at("variation", commission, 1)).context["shown"]
    for amount in (frozen.net_minor, frozen.tax_minor, frozen.gross_minor, frozen.gross_after_minor):
        assert format_minor(amount, "GBP") in printed
    for part in frozen.parts:
        assert part.label in printed
    for section in frozen.said.sections:
        for row_ in section.rows:
            assert " ".join(row_.now.split(":")[0].split()) in printed
    assert f"Variation {row.number}" in printed
    assert not [word for word in RED if word in printed.lower()]


def test_the_same_draft_prints_the_same_bytes(owner: User, commission: Commission) -> None:
    variation = make_variation(commission, owner)
    found = workings.worked_variation(workings.asked_of(variation), timezone.localdate()).varied
    assert found
    first, second = (workings.printed_variation(workings.variation_sheet(found, by=owner)) for _ in range(2))
    assert first == second


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"section": "Base", "becomes": "pulls", "casts": ""}, "Enter how many casts are taken from the mould."),
        ({"section": "every", "becomes": "as_drawn", "casts": ""}, "is one section; choose which"),
        ({"section": "Base", "becomes": "grade:Z", "casts": ""}, "Choose what becomes other."),
        ({"section": "Nose", "becomes": "grade:A", "casts": ""}, "Choose one of the sections in the list."),
        ({"section": "Base", "becomes": "", "casts": ""}, "Choose what becomes other."),
    ],
)
def test_a_change_that_cannot_be_read_is_put_right_with_what_was_typed(
    office: Client, owner: User, commission: Commission, change: dict[str, str], told: str
) -> None:
    make_variation(commission, owner)
    response = office.post(at("variation_sections", commission, 1), rows(2, change))
    assert response.status_code == 422
    assert told in response.content.decode()


def test_two_people_on_one_draft_lose_nothing(office: Client, owner: User, commission: Commission) -> None:
    make_variation(commission, owner)
    assert office.post(at("variation_words", commission, 1), words(version="2", title="Mine")).status_code == 302
    response = office.post(at("variation_words", commission, 1), words(version="2", title="Theirs"))
    assert response.status_code == 409
    assert "Theirs" in response.content.decode()
    assert Variation.objects.get().title == "Mine"


def test_a_snag_and_a_comment_begin_one(office: Client, owner: User, commission: Commission) -> None:
    base = commission.sections.get(name="Base")
    snag = add_snag(by=owner, section=base, found=Found("The lug is loose", "plain", 30, None, None))
    page = office.get(at("new_variation", commission) + f"?snag={snag.pk}").content.decode()
    assert "The lug is loose</textarea>" in page
    response = office.post(at("new_variation", commission), words(origin="snag", snag=str(snag.pk)))
    assert response.status_code == 302
    shown = office.get(at("variation", commission, 1)).content.decode()
    assert "Raised from a fault that was found." in shown
    assert "The lug is loose</a>" in shown
    assert office.post(at("new_variation", commission), words(origin="snag", title="Other")).status_code == 422


def sample_approved(stage: Stage, by: User) -> None:
    """The colour and finish sample of a stage, put forward and approved with a comment."""
    asked = SignOff.objects.create(
        commission=stage.commission,
        number=1,
        point=HoldPoint.SAMPLE,
        asked_of="R. Osei",
        what="The sample",
        costs_after="Paint",
        answer_by=timezone.localdate(),
        sent_at=timezone.now(),
        sent_by=by,
        sha256="a" * 64,
    )
    given = SignOffAnswer.objects.create(
        sign_off=asked,
        answer=Answer.WITH_COMMENTS,
        name="R. Osei",
        words="Glossier, if it can be had",
        answered_on=timezone.localdate(),
        of_sha256="a" * 64,
        recorded_by=by,
    )
    Stage.objects.filter(pk=stage.pk).update(approval=given)


def test_a_change_of_finish_after_the_sample_shows_what_it_reopens_and_what_was_spent(
    office: Client, owner: User, commission: Commission
) -> None:
    finish, crown = stage_of(commission, "finish"), stage_of(commission, "finish", "Crown")
    sample_approved(finish, owner)
    book(finish, owner, 600, days_ago=9)
    pass_all(finish)
    Stage.objects.filter(pk=crown.pk).update(state=StageState.IN_HAND, approval=SignOffAnswer.objects.get())
    both = [{"section": "", "what": "grade", "value": "A"}]
    variation = make_issued_variation(commission, owner, changes=both)
    page = office.get(at("variation", commission, 1))
    (again,) = page.context["again"]
    assert (again.stage, again.minutes) == (finish, 600)
    assert again.spent_minor > 0
    content = page.content.decode()
    assert "Reopened if it is accepted" in content
    assert format_minor(again.spent_minor, "GBP") in content
    assert "Colour and finish sample: Base, finish" in content
    outside = Client().get(holder(commission, variation), headers=LOOKING).content.decode()
    assert "Base, finish" in outside
    assert format_minor(again.spent_minor, "GBP") not in outside
    accept_variation(variation, by=None)
    finish.refresh_from_db()
    crown.refresh_from_db()
    assert (finish.state, finish.approval) == (StageState.REOPENED, None)
    assert (crown.state, crown.approval) == (StageState.IN_HAND, None)


def test_work_before_the_answer_is_at_the_studios_risk(office: Client, owner: User, commission: Commission) -> None:
    finish = stage_of(commission, "finish")
    long_ago = timezone.now() - timezone.timedelta(days=6)
    book(finish, owner, 90, days_ago=9)
    variation = make_variation(commission, owner, raised_at=long_ago)
    assert office.get(at("variation", commission, 1)).context["risk"] == ()
    book(finish, owner, 120, days_ago=2)
    page = office.get(at("variation", commission, 1))
    (risk,) = page.context["risk"]
    assert (risk.stage, risk.minutes) == (finish, 120)
    assert f"At the studio's own risk: {format_minor(page.context['risk_minor'], 'GBP')}" in page.content.decode()
    assert variation.issued_at is None


def test_a_holder_reads_it_answers_once_and_sees_no_cost(owner: User, office: Client, commission: Commission) -> None:
    variation = make_issued_variation(commission, owner)
    address, stranger = holder(commission, variation), Client()
    page = stranger.get(address, headers=LOOKING)
    content = page.content.decode()
    assert page.headers["Referrer-Policy"] == "strict-origin"
    assert format_minor(variation.gross_minor or 0, "GBP") in content
    assert not [word for word in RED if word in content.lower()]
    assert format_minor(variation.cost_minor or 0, "GBP") not in content
    assert stranger.get(f"{address}variation.pdf").content == b"%PDF-1.7 stand-in"
    given: dict[str, Any] = {"read": variation.pdf_sha256, "decision": "accepted", "said_by": "", "role": "Gardener"}
    response = stranger.post(address, given)
    assert response.status_code == 422
    assert "Enter your name." in response.content.decode()
    assert stranger.post(address, {**given, "said_by": "R. Osei", "read": "0" * 64}).status_code == 409
    assert not VariationAnswer.objects.exists()
    assert "Your answer is recorded" in stranger.post(address, {**given, "said_by": "R. Osei"}).content.decode()
    again = stranger.post(address, {**given, "said_by": "Somebody else", "decision": "declined"}).content.decode()
    assert "R. Osei, Gardener" in again
    row = VariationAnswer.objects.get()
    assert (row.decision, row.said_by, row.recorded_by) == ("accepted", "R. Osei", None)
    assert "through a link" in office.get(at("variation", commission, 1)).content.decode()


def test_the_office_makes_the_link_and_records_what_came_on_paper(
    owner: User, office: Client, commission: Commission
) -> None:
    variation = make_issued_variation(commission, owner)
    commissioner = office.get(reverse("commissioner", args=[commission.pk])).content.decode()
    assert "Variations that wait for an answer" in commissioner
    given = {"receiver": "R. Osei", "expires_on": timezone.localdate().isoformat()}
    made = office.post(at("new_variation_link", commission, 1), given).content.decode()
    token = re.search(r"/l/([\w-]{43})/variation/", made)
    assert token
    assert Client().get(f"/l/{token[1]}/variation/").status_code == 200
    answered = {
        "read": variation.pdf_sha256,
        "decision": "declined",
        "said_by": "R. Osei",
        "role": "",
        "note": "Too dear",
    }
    assert office.post(at("variation_answer", commission, 1), answered).status_code == 302
    assert "Too dear" in office.get(at("variation", commission, 1)).content.decode()
    late = office.post(at("new_variation_link", commission, 1), given)
    assert late.headers["Location"] == at("variation", commission, 1)


def test_a_draft_is_withdrawn_and_never_accepted(owner: User, office: Client, commission: Commission) -> None:
    make_variation(commission, owner)
    given = {"read": "", "said_by": "Tam Okoro", "role": "", "note": "Not wanted"}
    assert office.post(at("variation_answer", commission, 1), {**given, "decision": "accepted"}).status_code == 422
    assert office.post(at("variation_answer", commission, 1), {**given, "decision": "withdrawn"}).status_code == 302
    assert "Withdrawn" in office.get(at("variation", commission, 1)).content.decode()
    assert office.post(at("issue_variation", commission, 1), {"seal": ""}).status_code == 409


def test_a_link_shows_its_own_variation_alone(owner: User, commission: Commission) -> None:
    drafted = make_variation(commission, owner)
    made = give_link(commission, kind=LinkKind.VARIATION, variation=drafted)
    assert Client().get(reverse("held_variation", args=[made.token])).status_code == 404
    progress = give_link(commission)
    assert Client().get(reverse("held_variation", args=[progress.token])).status_code == 404


def test_the_standing_and_the_board_say_what_moved(owner: User, office: Client, commission: Commission) -> None:
    Commission.objects.filter(pk=commission.pk).update(needed_by="2031-03-01")
    variation = make_issued_variation(commission, owner, days=6)
    accept_variation(variation, by=owner)
    standing = office.get(reverse("standing", args=[commission.pk])).content.decode()
    assert f"+{format_minor(variation.net_minor or 0, 'GBP')}" in standing
    assert "6 days later by variations" in standing
    for page in (standing, office.get(reverse("board", args=[commission.pk])).content.decode()):
        assert "7 Mar 2031" in page
        assert "6 days later than" in page


def test_the_bench_sees_nothing_of_it(owner: User, commission: Commission) -> None:
    make_issued_variation(commission, owner)
    bench = signed_in(Role.BENCH)
    for name in ("variations", "new_variation"):
        assert bench.get(at(name, commission)).status_code == 403
    assert bench.get(at("variation", commission, 1)).status_code == 403
    assert at("variations", commission) not in bench.get(reverse("board", args=[commission.pk])).content.decode()
