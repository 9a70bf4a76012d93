"""Sign-offs: what is sent is frozen, answered once, and alone opens a hold point."""

import datetime
from collections.abc import Callable

import pytest
from django.db import Error, connection, transaction

from jobs.approvals import approval_sheet, send_as_agreed, shown_sheet
from jobs.figures.approval import thawed_approval
from jobs.figures.sealed import digest, sealed
from jobs.models import Answer, Commission, SignOff, SignOffAnswer, Stage
from jobs.services import sign_offs as services
from jobs.services import stages
from jobs.services.photos import show_to_commissioner
from jobs.services.stage_making import StageInUse, remove_stage
from studio.accounts.models import AuditEntry
from studio.locking import Conflict
from tests.jobs.sign_off_life import SENT, STAND_IN, approve, drafted, office, particulars, sent, shown_photo, signed
from tests.jobs.stage_life import DAY, in_hand, make_ready, the

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]


@pytest.fixture
def commission() -> Commission:
    return in_hand(sections=("Base", "Crown"))


@pytest.fixture
def pattern(commission: Commission) -> Stage:
    stage = the(commission, "pattern")
    make_ready(stage)
    return the(commission, "pattern")


def refusal(act: Callable[[], object]) -> str:
    with pytest.raises((services.SignOffRefused, stages.StageRefused)) as raised:
        act()
    return str(raised.value)


def refused_by_the_database(sql: str, given: list[int]) -> bool:
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(sql, given)
    except Error:
        return True
    return False


def test_an_approval_opens_the_hold_points_that_it_covers_and_no_other(commission: Commission, pattern: Stage) -> None:
    crown = the(commission, "pattern", "Crown")
    make_ready(crown)
    row = sent(commission, pattern)
    assert services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT) == []
    assert not the(commission, "pattern").lacks_sign_off
    assert the(commission, "pattern", "Crown").lacks_sign_off
    stages.pass_stage(by=office(), stage=the(commission, "pattern"), at=SENT + 30 * DAY)
    entry = AuditEntry.objects.about(commission.subject).get(act__startswith="Sign-off answered")
    assert (entry.actor, entry.after["came"]) == (office(), "in the office")


def test_approval_with_comments_opens_it_and_not_yet_does_not(commission: Commission, pattern: Stage) -> None:
    first = sent(commission, pattern)
    services.answer(by=office(), sign_off=first, signed=signed(first, Answer.NOT_YET), at=SENT)
    assert the(commission, "pattern").lacks_sign_off
    second = sent(commission, pattern)
    services.answer(by=office(), sign_off=second, signed=signed(second, Answer.WITH_COMMENTS), at=SENT)
    assert the(commission, "pattern").approval.words == "The nose is too long"
    assert [row.number for row in commission.sign_offs.all()] == [2, 1]


def test_it_is_answered_once_to_the_sheet_that_was_shown_and_with_reasons(
    commission: Commission, pattern: Stage
) -> None:
    row = drafted(commission, pattern)
    assert "has not been sent" in refusal(
        lambda: services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT)
    )
    row = sent(commission, pattern)
    with pytest.raises(Conflict):
        services.answer(by=office(), sign_off=row, signed=signed(row, of_sha256="0" * 64), at=SENT)
    wordless = signed(row, Answer.NOT_YET, words="")
    assert "Say why" in refusal(lambda: services.answer(by=office(), sign_off=row, signed=wordless, at=SENT))
    services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT)
    with pytest.raises(services.AlreadyAnswered):
        services.answer(by=office(), sign_off=row, signed=signed(row, Answer.NOT_YET), at=SENT)
    assert SignOffAnswer.objects.get().answer == Answer.APPROVED


def test_reopening_lets_the_approval_lapse_and_one_under_way_opens_nothing(
    commission: Commission, pattern: Stage
) -> None:
    approve(pattern)
    stages.reopen(by=office(), stage=pattern, reason="Nose broken off", at=SENT + 30 * DAY)
    assert the(commission, "pattern").lacks_sign_off
    stages.ready_to_check(by=office(), stage=pattern, at=SENT + 31 * DAY)
    row = sent(commission, the(commission, "pattern"), at=SENT + 32 * DAY)
    stages.reopen(by=office(), stage=pattern, reason="Broken again", at=SENT + 33 * DAY)
    closed = services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT)
    assert closed == [f"Base, pattern was reopened after {row.full_number} was sent; it is put forward anew."]
    assert the(commission, "pattern").lacks_sign_off


def test_the_work_itself_is_sent_when_it_is_ready_and_a_sample_before(commission: Commission) -> None:
    pattern, finish = the(commission, "pattern"), the(commission, "finish")
    assert "has to be ready to check" in refusal(lambda: sent(commission, pattern))
    row = sent(commission, finish)
    assert services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT) == []
    assert not the(commission, "finish").lacks_sign_off


def test_a_stage_is_before_the_commissioner_once_and_of_the_right_kind(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern)
    assert f"with {row.full_number}; withdraw that first" in refusal(lambda: sent(commission, pattern))
    services.withdraw(by=office(), sign_off=row, reason="The wrong photo", at=SENT)
    assert the(commission, "pattern").lacks_sign_off
    assert "does not wait for “In its place”" in refusal(lambda: sent(commission, pattern, point="installed"))
    approve(the(commission, "pattern"))
    assert "is signed off already" in refusal(lambda: sent(commission, pattern))


def test_only_an_approval_opens_a_hold_point(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern)
    services.answer(by=office(), sign_off=row, signed=signed(row, Answer.NOT_YET), at=SENT)
    opening = lambda stage: stages.open_hold_point(by=office(), stage=stage, approval=row.given)  # noqa: E731
    row.refresh_from_db()
    assert "“not yet” is none" in refusal(lambda: opening(pattern))
    good = approve(pattern)
    good.refresh_from_db()
    row = good
    assert "was signed off by R. Osei before" in refusal(lambda: opening(the(commission, "pattern")))
    assert "does not wait for “Form of the pattern”" in refusal(lambda: opening(the(commission, "cast")))


def test_what_was_sent_is_shown_from_what_was_frozen(commission: Commission, pattern: Stage) -> None:
    photo = shown_photo(commission)
    row = drafted(commission, pattern, photos=[photo])
    seen = approval_sheet(row, SENT.date())
    kept = sealed(seen)
    assert thawed_approval(kept) == seen
    services.send(by=office(), sign_off=row, version=row.version, sheet=seen, pdf=STAND_IN, at=SENT)
    Commission.objects.filter(pk=commission.pk).update(title="Another title")
    show_to_commissioner(by=office(), photo=photo, shown=False)
    again = SignOff.objects.get(pk=row.pk)
    assert shown_sheet(again) == seen
    assert again.sha256 == digest(kept)
    assert [shown.sha256 for shown in seen.photos] == [photo.sha256]
    assert "Base" in seen.drawing_svg


def test_only_the_sheet_that_was_looked_at_is_sent(commission: Commission, pattern: Stage) -> None:
    row = drafted(commission, pattern)
    agreed = digest(sealed(approval_sheet(row, SENT.date())))
    changed = particulars([pattern], what="Another form")
    services.change(by=office(), sign_off=row, version=0, given=changed)
    with pytest.raises(Conflict):
        send_as_agreed(by=office(), sign_off=row, agreed=agreed, at=SENT)
    with pytest.raises(Conflict):
        services.change(by=office(), sign_off=row, version=0, given=changed)
    row.refresh_from_db()
    assert row.sent_at is None


def test_photos_and_stages_are_the_commissions_own_and_marked(commission: Commission, pattern: Stage) -> None:
    other = in_hand("Tide Lantern")
    assert "of this commission" in refusal(lambda: drafted(other, pattern))
    photo = shown_photo(commission)
    show_to_commissioner(by=office(), photo=photo, shown=False)
    assert "is not marked for the commissioner" in refusal(lambda: drafted(commission, photos=[photo]))


def test_the_database_refuses_to_alter_what_was_sent_or_answered(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern, photos=[shown_photo(commission)])
    services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT)
    loose = drafted(commission)
    frozen = [
        ("UPDATE jobs_signoff SET what = 'else' WHERE id = %s", [row.pk]),
        ("DELETE FROM jobs_signoff WHERE id = %s", [row.pk]),
        ("DELETE FROM jobs_signoff_stages WHERE signoff_id = %s", [row.pk]),
        (
            "INSERT INTO jobs_signoff_stages (signoff_id, stage_id) VALUES (%s, %s)",
            [row.pk, the(commission, "cast").pk],
        ),
        ("UPDATE jobs_signoff_photos SET signoff_id = %s WHERE signoff_id = %s", [loose.pk, row.pk]),
        ("UPDATE jobs_signoffanswer SET answer = 'not_yet' WHERE sign_off_id = %s", [row.pk]),
        ("DELETE FROM jobs_signoffanswer WHERE sign_off_id = %s", [row.pk]),
    ]
    assert [sql for sql, given in frozen if not refused_by_the_database(sql, given)] == []
    with pytest.raises(Error), transaction.atomic():
        SignOffAnswer.objects.create(
            sign_off=loose, answer="approved", name="R", answered_on=datetime.date(2026, 3, 3), recorded_by=office()
        )
    assert "was sent and is never altered" in refusal(
        lambda: services.change(by=office(), sign_off=row, version=row.version, given=particulars())
    )
    assert "was sent and is never altered" in refusal(lambda: services.discard(by=office(), sign_off=row))


def test_a_draft_is_thrown_away_and_a_stage_on_a_sheet_stays(commission: Commission) -> None:
    cast = the(commission, "finish", "Crown")
    row = drafted(commission, cast)
    with pytest.raises(StageInUse):
        remove_stage(by=office(), stage=cast)
    services.discard(by=office(), sign_off=row)
    remove_stage(by=office(), stage=cast)
    assert not commission.sign_offs.exists()


def test_what_is_awaited_is_listed_with_the_days_it_is_late(commission: Commission, pattern: Stage) -> None:
    row = sent(commission, pattern, answer_by=datetime.date(2026, 3, 9))
    assert [each.pk for each in SignOff.objects.awaited()] == [row.pk]
    assert (row.days_late(datetime.date(2026, 3, 9)), row.days_late(datetime.date(2026, 3, 12))) == (0, 3)
    services.answer(by=office(), sign_off=row, signed=signed(row), at=SENT)
    assert not SignOff.objects.awaited().exists()
    again = SignOff.objects.listed().get(pk=row.pk)
    assert again.days_late(datetime.date(2026, 3, 12)) == 0
