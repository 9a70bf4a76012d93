"""The progress page: what it tells, and that it changes with who looked when."""

import datetime
import io

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from PIL import Image

from jobs.models import Commission, Link, Photo, SentOutWork, Stage
from jobs.services import stages
from jobs.services.photos import add_photo, show_to_commissioner
from jobs.services.published import publish
from studio.images import made_again
from studio.locking import Conflict
from tests.factories import make_commission, make_issued, make_section, price_everything
from tests.jobs.link_samples import LOOKING, give_link
from tests.jobs.stage_life import anybody, give_stages, in_hand, make_passed, make_ready, the, work

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]
DAY = datetime.timedelta(days=1)


def page(commission: Commission, client: Client | None = None, **values: bool) -> str:
    made = give_link(commission, **values)
    answer = (client or Client()).get(f"/l/{made.token}/")
    assert answer.status_code == 200
    return answer.content.decode()


def photo_of(commission: Commission, colour: str = "red", *, shown: bool = True, caption: str = "The nut") -> Photo:
    target = io.BytesIO()
    Image.new("RGB", (40, 30), colour).save(target, "JPEG")
    pictures = made_again(target.getvalue())
    photo = add_photo(by=anybody(), commission=commission, stage=None, pictures=pictures, caption=caption)
    if shown:
        show_to_commissioner(by=anybody(), photo=photo, shown=True)
    return photo


def told_days(commission: Commission, promised: str, expected: str, note: str = "", follows: int = 0) -> None:
    publish(
        by=anybody(),
        commission=commission,
        follows=follows,
        promised_on=datetime.date.fromisoformat(promised),
        expected_on=datetime.date.fromisoformat(expected),
        note=note,
        at=timezone.now(),
    )


def test_it_tells_how_far_each_stage_has_come() -> None:
    commission = in_hand(sections=("Base", "Belly"))
    now = timezone.now()
    make_passed(the(commission, "pattern", "Base"), now - 60 * DAY)
    work(the(commission, "mould", "Base"), now - DAY, steps=3)
    stages.begin(by=anybody(), stage=the(commission, "pattern", "Belly"), at=now)
    told = page(commission)
    assert "1 of 2 passed, 1 in hand" in told
    assert told.count("not begun") == 3 + 7
    assert "Base, pattern: passed" in told
    assert "Belly, pattern: begun" in told
    assert 'id="key-pattern"' in told
    assert "<svg" in told


def test_a_hold_says_until_when_and_why() -> None:
    commission = in_hand()
    make_passed(the(commission, "pattern"), timezone.now() - 60 * DAY)
    stage = the(commission, "mould")
    Stage.objects.filter(pk=stage.pk).update(
        state="in_hand", hold_until=timezone.now() + DAY, hold_reason="mould cures on its pattern"
    )
    told = page(commission)
    assert "Base, mould: on hold until" in told
    assert "mould cures on its pattern." in told


def test_work_that_is_out_is_told_without_the_firm() -> None:
    commission = in_hand()
    SentOutWork.objects.create(
        commission=commission,
        stage=the(commission, "cast"),
        what="Galvanising",
        firm="Fenwharf Galvanisers",
        ordered_on="2026-03-02",
        out_on="2026-03-03",
        due_back="2026-03-20",
        agreed_minor=42_000,
        currency="GBP",
    )
    told = page(commission)
    assert "Base, cast: part of it is out for work done elsewhere, back by 20 Mar." in told
    assert "Fenwharf" not in told


def test_what_is_reopened_is_in_hand_again_and_its_reason_stays_inside() -> None:
    commission = in_hand()
    stage = the(commission, "pattern")
    make_ready(stage, timezone.now() - 60 * DAY)
    assert "awaits your approval" in page(commission)
    stages.reopen(by=anybody(), stage=stage, reason="Ines dropped it", at=timezone.now())
    told = page(commission)
    assert "in hand again" in told
    assert "taken in hand again" in told
    assert "dropped" not in told


def test_news_is_what_came_since_an_earlier_day() -> None:
    commission = in_hand()
    made = give_link(commission, at=timezone.now() - 20 * DAY)
    work(the(commission, "pattern"), timezone.now() - 60 * DAY, steps=1)
    client = Client()
    assert "What has happened" in client.get(f"/l/{made.token}/", headers=LOOKING).content.decode()
    Link.objects.update(last_opened_at=timezone.now() - 2 * DAY)
    told = client.get(f"/l/{made.token}/", headers=LOOKING).content.decode()
    assert "Since you last looked" in told
    assert "Nothing that shows from outside." in told
    stages.begin(by=anybody(), stage=the(commission, "crate"), at=timezone.now())
    # Twice on one day is one visit: what was news in the morning is news at noon.
    for _ in range(2):
        told = client.get(f"/l/{made.token}/", headers=LOOKING).content.decode()
        news, _, earlier = told.partition("What happened before that")
        assert "Base, crate: begun" in news
        assert "Base, pattern: begun" in earlier


def test_days_are_told_as_published_and_a_change_is_news() -> None:
    commission = in_hand()
    commission.needed_by = datetime.date(2027, 1, 15)
    commission.save()
    assert "15 Jan" not in page(commission)
    told_days(commission, "2027-02-01", "2027-02-01")
    told_days(commission, "2027-02-01", "2027-03-09", "Rain holds back the installation.", follows=1)
    told = page(commission)
    assert "9 Mar 2027" in told
    assert "Expected: 9 Mar, before that 1 Feb" in told
    assert "Rain holds back the installation." in told
    assert "Promised: 1 Feb, before that" not in told


def test_the_days_of_the_site_are_told_back_to_whoever_gave_them() -> None:
    commission = in_hand()
    assert "as agreed for the delivery" not in page(commission)
    Commission.objects.update(site_from="2027-05-12", site_until="2027-05-16", site_shut=["2027-05-14"])
    told = page(Commission.objects.get())
    assert all(f'datetime="2027-05-{day}"' in told for day in (12, 14, 16))
    assert "as agreed for the delivery. Tell the studio if that changes." in told
    Commission.objects.update(state="done")
    assert "as agreed for the delivery" not in page(Commission.objects.get())


def test_what_was_published_stands_and_none_is_passed_over() -> None:
    commission = make_commission()
    told_days(commission, "2027-02-01", "2027-02-01")
    with pytest.raises(Conflict):
        told_days(commission, "2027-02-01", "2027-04-01", follows=0)
    assert commission.publications.count() == 1


def test_photos_are_shown_only_once_marked() -> None:
    commission, client = in_hand(), Client()
    shown, kept = photo_of(commission), photo_of(commission, "blue", shown=False, caption="The cracked return")
    made = give_link(commission)
    told = client.get(f"/l/{made.token}/").content.decode()
    assert "The nut" in told
    assert "cracked" not in told
    for size in ("small", "full"):
        picture = client.get(f"/l/{made.token}/photos/{shown.pk}/{size}.jpg")
        assert (picture.status_code, picture["Content-Type"]) == (200, "image/jpeg")
        assert b"".join(picture.streaming_content).startswith(b"\xff\xd8")
        assert client.get(f"/l/{made.token}/photos/{kept.pk}/{size}.jpg").status_code == 404
    show_to_commissioner(by=anybody(), photo=shown, shown=False)
    assert client.get(f"/l/{made.token}/photos/{shown.pk}/full.jpg").status_code == 404


def test_under_a_good_token_nothing_of_another_commission_opens() -> None:
    one, other, client = in_hand("The Long Pear"), make_commission("Tide Lantern"), Client()
    elsewhere = photo_of(other)
    made = give_link(one, shows_documents=True)
    nothing = client.get("/l/never-made/").content
    for address in (f"photos/{elsewhere.pk}/full.jpg", "photos/99999/small.jpg", "photos/1/huge.jpg", "quote.pdf"):
        answer = client.get(f"/l/{made.token}/{address}")
        assert (answer.status_code, answer.content) == (404, nothing), address


def test_the_quote_is_there_only_where_it_was_granted() -> None:
    price_everything()
    commission, client = make_commission(), Client()
    make_section(commission)
    with_it, without = give_link(commission, shows_documents=True), give_link(commission)
    assert client.get(f"/l/{with_it.token}/quote.pdf").status_code == 404
    make_issued(commission, anybody())
    answer = client.get(f"/l/{with_it.token}/quote.pdf")
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    assert bytes(answer.content) == b"%PDF-1.7 stand-in"
    assert "Quote 26-001 / 1" in client.get(f"/l/{with_it.token}/").content.decode()
    assert "/quote.pdf" not in client.get(f"/l/{without.token}/").content.decode()
    assert client.get(f"/l/{without.token}/quote.pdf").status_code == 404


def test_a_lapsed_quote_is_not_offered() -> None:
    price_everything()
    commission, client = make_commission(), Client()
    make_section(commission)
    made = give_link(commission, shows_documents=True)
    make_issued(commission, anybody(), on=timezone.localdate() - 90 * DAY)
    assert client.get(f"/l/{made.token}/quote.pdf").status_code == 404


def test_before_the_work_begins_there_is_the_drawing_alone() -> None:
    commission = make_commission()
    make_section(commission)
    told = page(commission)
    assert "The work has not begun." in told
    assert "<svg" in told
    assert "On hold" not in told


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_nothing_can_be_sent_to_it(method: str) -> None:
    made = give_link(in_hand())
    assert getattr(Client(), method)(f"/l/{made.token}/").status_code == 405


def test_it_takes_as_many_queries_for_six_sections_as_for_one() -> None:
    def queries(commission: Commission) -> int:
        made = give_link(commission)
        with CaptureQueriesContext(
            connection,
        ) as found:
            assert Client().get(f"/l/{made.token}/").status_code == 200
        return len(found)

    small = in_hand("One")
    large = in_hand("Six", [f"Section {number}" for number in range(6)])
    give_stages(large, None, ("install",))
    make_passed(the(large, "pattern", "Section 1"), timezone.now() - 60 * DAY)
    for colour in ("red", "green", "blue"):
        photo_of(large, colour)
    assert queries(small) == queries(large) <= 15
