"""What is put before the commissioner stands on the progress page and in the calendar until something comes of it."""

import datetime

import pytest
from django.test import Client
from django.utils import timezone

from jobs.asked import put_before
from jobs.models import Answer, Commission, LinkKind
from jobs.services import sign_offs
from tests.factories import price_everything
from tests.jobs.link_samples import give_link
from tests.jobs.sign_off_life import drafted, office, sent, signed
from tests.jobs.stage_life import in_hand, make_ready, the
from tests.jobs.standing_samples import accepted
from tests.jobs.test_links_calendar import summaries
from tests.jobs.variation_samples import accept_variation, make_issued_variation, make_variation

pytestmark = pytest.mark.django_db
DAY = datetime.timedelta(days=1)


def page(commission: Commission) -> str:
    return Client().get(f"/l/{give_link(commission).token}/").content.decode()


def test_a_sign_off_is_asked_until_it_is_answered() -> None:
    commission = in_hand()
    make_ready(the(commission, "pattern"), timezone.now() - 60 * DAY)
    drafted(commission, the(commission, "pattern"))
    assert "Your answer is awaited" not in page(commission)
    row = sent(commission, the(commission, "pattern"), at=timezone.now(), answer_by=datetime.date(2027, 3, 9))
    told = page(commission)
    assert "Your answer is awaited" in told
    assert f"<b>Form of the pattern, sign-off {row.full_number}</b>" in told
    assert "an answer by 9 Mar 2027 keeps the programme" in told
    (late,) = put_before([commission], datetime.date(2027, 3, 10))
    assert late.due == "an answer was needed by 9 Mar 2027, and the day may move"
    made = give_link(None, kind=LinkKind.CALENDAR)
    assert summaries(Client(), made.token) == ["The Long Pear: an answer is due"]
    answer = signed(row, Answer.WITH_COMMENTS, on=timezone.localdate())
    sign_offs.answer(by=office(), sign_off=row, signed=answer, at=timezone.now())
    told = page(commission)
    assert "Your answer is awaited" not in told
    assert f"sign-off {row.full_number}: approved with comments" in told
    # What was typed is for the studio and for whoever typed it.
    assert "nose" not in told
    assert summaries(Client(), made.token) == []


def test_a_variation_is_asked_without_its_price_until_it_lapses() -> None:
    price_everything(98_765)
    commission = accepted(office())
    make_variation(commission, office(), title="Not sent yet")
    row = make_issued_variation(commission, office())
    told = page(commission)
    assert f"The base in gallery gloss, variation {row.number}" in told
    assert "its price stands until" in told
    assert "Not sent yet" not in told
    assert "£" not in told
    assert row.valid_until is not None
    (later,) = put_before([commission], row.valid_until + DAY)
    assert (later.came_of_it, later.is_awaited) == ("lapsed", False)
    accept_variation(row, office())
    told = page(commission)
    assert "Your answer is awaited" not in told
    assert f"variation {row.number}: accepted" in told


def test_an_answer_on_paper_counts_from_the_day_that_stands_on_it() -> None:
    commission = in_hand()
    make_ready(the(commission, "pattern"), timezone.now() - 60 * DAY)
    row = sent(commission, the(commission, "pattern"), at=timezone.now() - 9 * DAY)
    signed_on = timezone.localdate() - 5 * DAY
    sign_offs.answer(by=office(), sign_off=row, signed=signed(row, on=signed_on), at=timezone.now())
    (given,) = put_before([commission], timezone.localdate())
    assert given.answered_at is not None
    assert timezone.localdate(given.answered_at) == signed_on
