"""Photos and snags as people use them."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from jobs.models import Commission, Photo, Section, Snag
from jobs.services.photos import photo_path
from jobs.services.snags import SnagRefused, close_snag, mend_snag
from studio.accounts.models import AuditEntry, Role, User
from tests.factories import make_commission, make_person, make_section

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]


@pytest.fixture
def ines() -> User:
    return make_person(Role.BENCH)


@pytest.fixture
def bench(client: Client, ines: User) -> Client:
    client.force_login(ines)
    return client


@pytest.fixture
def commission() -> Commission:
    return make_commission()


@pytest.fixture
def section(commission: Commission) -> Section:
    return make_section(commission)


def photo_file(colour: str = "red") -> SimpleUploadedFile:
    target = io.BytesIO()
    Image.new("RGB", (400, 300), colour).save(target, "JPEG")
    return SimpleUploadedFile("../../IMG 1.jpg", target.getvalue(), "image/jpeg")


def keep_one(client: Client, commission: Commission, colour: str = "red") -> Photo:
    client.post(f"/commissions/{commission.pk}/photos/", {"photo": photo_file(colour), "caption": "The first cup"})
    return Photo.objects.latest("pk")


def test_a_photo_is_kept_and_shown(bench: Client, commission: Commission) -> None:
    photo = keep_one(bench, commission)
    assert photo_path(photo.sha256, small=False).is_file()
    assert "The first cup" in bench.get(f"/commissions/{commission.pk}/photos/").content.decode()
    for size in ("full", "small"):
        picture = bench.get(f"/photos/{photo.pk}/{size}.jpg")
        assert picture["Content-Type"] == "image/jpeg"
        assert picture["X-Content-Type-Options"] == "nosniff"
        assert b"".join(picture.streaming_content).startswith(b"\xff\xd8")


def test_the_same_photo_sent_twice_is_one(bench: Client, commission: Commission) -> None:
    keep_one(bench, commission)
    keep_one(bench, commission)
    assert Photo.objects.count() == 1


def test_what_is_no_photo_is_refused_and_the_words_stay(bench: Client, commission: Commission) -> None:
    sent = {"photo": SimpleUploadedFile("a.jpg", b"<html>"), "caption": "Half a cup"}
    response = bench.post(f"/commissions/{commission.pk}/photos/", sent)
    assert response.status_code == 422
    assert "not a photo that can be read" in response.content.decode()
    assert 'value="Half a cup"' in response.content.decode()
    assert not Photo.objects.exists()


def test_only_the_office_shows_a_photo_to_the_commissioner(client: Client, commission: Commission) -> None:
    client.force_login(make_person(Role.OFFICE))
    photo = keep_one(client, commission)
    client.post(f"/photos/{photo.pk}/mark/", {"shown": "yes"})
    photo.refresh_from_db()
    assert photo.for_commissioner
    client.force_login(make_person(Role.BENCH))
    assert client.post(f"/photos/{photo.pk}/mark/", {"shown": "no"}).status_code == 403
    photo.refresh_from_db()
    assert photo.for_commissioner


def test_a_stranger_sees_no_photo(client: Client, bench: Client, commission: Commission) -> None:
    photo = keep_one(bench, commission)
    assert Client().get(f"/photos/{photo.pk}/full.jpg").status_code == 302


def test_a_snag_is_marked_where_somebody_points(bench: Client, section: Section) -> None:
    page = bench.get(f"/sections/{section.pk}/snags/new/").content.decode()
    assert 'type="image"' in page
    picture = bench.get(f"/sections/{section.pk}/drawing.svg")
    assert picture["Content-Type"] == "image/svg+xml"
    assert b"<script" not in picture.content
    given = {"what": "A pinhole", "grade": "plain", "minutes": "30", "at.x": "120", "at.y": "60"}
    bench.post(f"/sections/{section.pk}/snags/new/", given)
    snag = Snag.objects.get()
    assert snag.x == pytest.approx(0.25)
    assert snag.y is not None
    assert 0 < snag.y < 1
    listed = bench.get(f"/commissions/{section.commission_id}/snags/").content.decode()
    assert "A pinhole" in listed
    assert "<circle" in listed


def test_a_place_in_words_serves_as_well(bench: Client, section: Section) -> None:
    given = {"what": "A run", "grade": "slight", "minutes": "0", "place": "foot left"}
    bench.post(f"/sections/{section.pk}/snags/new/", given)
    snag = Snag.objects.get()
    assert (snag.x, snag.y) == (pytest.approx(1 / 6), pytest.approx(5 / 6))


@pytest.mark.parametrize("point", ["", "-5", "9" * 400, "NaN", "１２", "999999"])
def test_a_point_that_is_none_leaves_the_snag_unmarked(bench: Client, section: Section, point: str) -> None:
    given = {"what": "A run", "grade": "slight", "minutes": "0", "at.x": point, "at.y": point}
    assert bench.post(f"/sections/{section.pk}/snags/new/", given).status_code == 302
    assert Snag.objects.get().x is None


def test_a_snag_without_words_is_refused(bench: Client, section: Section) -> None:
    response = bench.post(f"/sections/{section.pk}/snags/new/", {"what": " ", "grade": "plain", "minutes": "15"})
    assert response.status_code == 422
    assert "Say what is wrong." in response.content.decode()


def test_who_mended_a_snag_does_not_close_it(bench: Client, section: Section, ines: User) -> None:
    bench.post(f"/sections/{section.pk}/snags/new/", {"what": "A run", "grade": "plain", "minutes": "15"})
    snag = Snag.objects.get()
    bench.post(f"/snags/{snag.pk}/", {"act": "mend", "version": snag.version})
    snag.refresh_from_db()
    said = bench.post(f"/snags/{snag.pk}/", {"act": "close", "version": snag.version}, follow=True).content.decode()
    assert "You mended it; somebody else has to look at it and close it." in said
    snag.refresh_from_db()
    assert snag.closed_at is None
    other = make_person(Role.OWNER)
    close_snag(by=other, snag=snag, version=snag.version)
    snag.refresh_from_db()
    assert snag.closed_by == other
    acts = list(AuditEntry.objects.about(section.commission.subject).values_list("act", flat=True))
    assert acts == ["Snag closed: A run", "Snag mended: A run", "Snag found on Base: A run"]


def test_a_snag_that_is_not_mended_cannot_be_closed(section: Section, ines: User) -> None:
    snag = Snag.objects.create(commission=section.commission, section=section, what="A run", found_by=ines)
    with pytest.raises(SnagRefused, match="not mended yet"):
        close_snag(by=make_person(Role.OWNER), snag=snag, version=snag.version)


def test_a_snag_sent_back_is_open_again(bench: Client, section: Section, ines: User) -> None:
    snag = Snag.objects.create(commission=section.commission, section=section, what="A run", found_by=ines)
    mend_snag(by=ines, snag=snag, version=0)
    bench.post(f"/snags/{snag.pk}/", {"act": "back", "version": snag.version})
    snag.refresh_from_db()
    assert snag.mended_at is None


@pytest.mark.parametrize("given", [{}, {"act": "explode", "version": "0"}, {"act": "mend", "version": "x"}])
def test_a_move_that_is_none_changes_nothing(
    bench: Client, section: Section, ines: User, given: dict[str, str]
) -> None:
    snag = Snag.objects.create(commission=section.commission, section=section, what="A run", found_by=ines)
    assert bench.post(f"/snags/{snag.pk}/", given).status_code == 302
    snag.refresh_from_db()
    assert snag.mended_at is None
