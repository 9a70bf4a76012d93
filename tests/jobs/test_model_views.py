"""Pricing from a model as people do it, with no script at all."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from jobs.models import Commission, CommissionModel
from studio.accounts.models import User
from tests.factories import make_commission, make_person, signed_in
from tests.jobs.models_sent import egg_file, make_model, open_egg, worked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("own_media")]


@pytest.fixture
def egg(office: Client) -> CommissionModel:
    return worked(make_model(make_commission("Great Egg"), User.objects.get()))


def send(browser: Client, commission: Commission, **given: object) -> object:
    values = {"name": "Egg", "file": egg_file(), "unit": "", "height": "3.2 m", "up": "", "holes": ""}
    return browser.post(f"/commissions/{commission.pk}/form/model/", values | given)


def text(browser: Client, address: str) -> str:
    return browser.get(address).content.decode()


def test_the_whole_journey_without_a_script(office: Client) -> None:
    commission = make_commission("Great Egg")
    assert "Price from a model" in text(office, f"/commissions/{commission.pk}/form/")
    sheet = send(office, commission).headers["Location"]
    waiting = text(office, sheet)
    assert "<progress" in waiting
    assert "Look again" in waiting
    model = worked(CommissionModel.objects.get())
    measured = text(office, sheet)
    assert "<progress" not in measured
    assert "2.000 × 1.600 × 3.200 m" in measured
    answer = office.post(f"/models/{model.pk}/planes/axis/", {"axis-axis": "z", "axis-at": "1.6 m"})
    assert answer.headers["Location"] == sheet
    worked(model)
    assert "2 sections, lowest first" in text(office, sheet)
    assert office.get(f"/models/{model.pk}/use/").status_code == 200
    answer = office.post(f"/models/{model.pk}/use/", {"name_1": "Lower", "name_2": "Upper"})
    assert answer.headers["Location"] == f"/commissions/{commission.pk}/form/"
    form = text(office, answer.headers["Location"])
    assert "Lower" in form
    assert "<svg" in form
    section = commission.sections.get(name="Upper")
    page = text(office, f"/sections/{section.pk}/change/")
    assert "Cut from a model" in page
    assert "Use this shape" not in page


def test_a_wrong_kind_of_file_is_refused_with_what_was_typed_kept(office: Client) -> None:
    answer = send(office, make_commission(), file=SimpleUploadedFile("egg.txt", b"x"), height="3.25 m")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<title>Error: " in page
    assert "Send one that ends in .stl, .obj, .ply, .3mf or .glb." in page
    assert 'value="3.25 m"' in page
    assert not CommissionModel.objects.exists()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"file": ""}, "Choose the model file."),
        ({"name": ""}, "Enter a name, such as Figure."),
        ({"height": "3.2"}, "unit"),
        ({"holes": "wide"}, "wide"),
    ],
)
def test_what_is_missing_or_wrong_is_said(office: Client, given: dict[str, str], told: str) -> None:
    answer = send(office, make_commission(), **given)
    assert answer.status_code == 422
    assert told in answer.content.decode()


def test_a_file_too_large_is_refused_before_it_is_read(office: Client) -> None:
    commission = make_commission()
    answer = office.generic(
        "POST",
        f"/commissions/{commission.pk}/form/model/",
        b"",
        content_type="multipart/form-data; boundary=x",
        CONTENT_LENGTH="104000000",
    )
    assert answer.status_code == 413
    assert "more than 100 MB" in answer.content.decode()


def test_sending_a_model_wants_the_token_of_the_form() -> None:
    make_person("office")
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(User.objects.get(), backend="django.contrib.auth.backends.ModelBackend")
    assert send(strict, make_commission()).status_code == 403


def test_the_same_name_twice_is_refused(office: Client) -> None:
    commission = make_commission()
    send(office, commission)
    answer = send(office, commission)
    assert answer.status_code == 422
    assert "already has a model called Egg" in answer.content.decode()


def test_the_size_is_asked_for_where_the_file_does_not_say_it(office: Client) -> None:
    model = worked(make_model(make_commission(), User.objects.get(), height=""))
    page = text(office, f"/models/{model.pk}/")
    assert "does not say what its numbers count" in page
    assert "Give its size" in page
    answer = office.post(
        f"/models/{model.pk}/stand/", {"unit": "mm", "height": "", "up": "", "holes": "", "version": "0"}
    )
    assert answer.status_code == 302
    assert worked(model).figures["extents_m"][2] == pytest.approx(1.6, rel=1e-6)


def test_the_second_to_change_the_stand_is_told(office: Client, egg: CommissionModel) -> None:
    CommissionModel.objects.update(version=5)
    answer = office.post(f"/models/{egg.pk}/stand/", {"height": "2 m", "version": "0"})
    assert answer.status_code == 409
    assert 'value="2 m"' in answer.content.decode()


def test_a_hole_is_offered_to_be_closed(office: Client) -> None:
    model = worked(make_model(make_commission(), User.objects.get(), open_egg()))
    page = text(office, f"/models/{model.pk}/")
    assert "so it has no volume" in page
    assert f"Close holes of up to {model.figures['close_mm']} mm" in page


@pytest.mark.parametrize(
    ("kind", "given", "told"),
    [
        ("axis", {"axis-axis": "z", "axis-at": "high"}, "high"),
        ("points", {"points-first": "0 0", "points-second": "1 0 0", "points-third": "0 1 0"}, "three numbers"),
        ("points", {"points-first": "0 0 1", "points-second": "1 0 1", "points-third": "2 0 1"}, "in one line"),
        ("normal", {"normal-normal": "0 0 0", "normal-offset": "1 m"}, "has no direction"),
    ],
)
def test_a_plane_that_is_none_is_refused_and_kept_as_typed(
    office: Client, egg: CommissionModel, kind: str, given: dict[str, str], told: str
) -> None:
    answer = office.post(f"/models/{egg.pk}/planes/{kind}/", given)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert f'value="{list(given.values())[-1]}"' in page
    assert not egg.planes.exists()


def test_three_points_and_a_normal_part_it_too(office: Client, egg: CommissionModel) -> None:
    points = {"points-first": "0 0 1.2", "points-second": "1, 0, 1.2", "points-third": "0 1 1.2"}
    office.post(f"/models/{egg.pk}/planes/points/", points)
    office.post(f"/models/{egg.pk}/planes/normal/", {"normal-normal": "0 0 2", "normal-offset": "2.2 m"})
    assert len(worked(egg).cut["sections"]) == 3
    plane = egg.planes.first()
    assert plane is not None
    office.post(f"/planes/{plane.pk}/remove/")
    assert len(worked(egg).cut["sections"]) == 2


def test_the_mirror_plane_is_taken(office: Client, egg: CommissionModel) -> None:
    CommissionModel.objects.update(figures={})
    office.post(f"/models/{egg.pk}/again/")
    worked(egg, mirrored=True)
    office.post(f"/models/{egg.pk}/planes/take/mirror/")
    one, other = worked(egg).cut["sections"]
    assert one["area_m2"] == pytest.approx(other["area_m2"], rel=1e-3)


def test_planes_that_fit_are_found_and_taken(office: Client, egg: CommissionModel) -> None:
    sides = {"longest": "2.4 m", "middle": "2 m", "shortest": "1.2 m"}
    assert office.post(f"/models/{egg.pk}/planes/find/", sides).status_code == 302
    worked(egg)
    assert "For 2.4 m × 2 m × 1.2 m:" in text(office, f"/models/{egg.pk}/")
    office.post(f"/models/{egg.pk}/planes/take/found/")
    assert len(worked(egg).cut["sections"]) > 1
    answer = office.post(f"/models/{egg.pk}/planes/find/", {"longest": "2.4 m"})
    assert answer.status_code == 422
    assert "all three sides" in answer.content.decode()


def test_the_bench_looks_and_changes_nothing(egg: CommissionModel) -> None:
    bench = signed_in("bench")
    page = text(bench, f"/models/{egg.pk}/")
    assert "2.000 × 1.600 × 3.200 m" in page
    for word in ("Part it here", "Remove this model", "Use this section", "Size and stand", "The file as sent"):
        assert word not in page
    view = bench.get(f"/models/{egg.pk}/view/")
    assert len(b"".join(view.streaming_content)) == egg.preview_path.stat().st_size  # type: ignore[attr-defined]
    assert bench.get(f"/models/{egg.pk}/original/").status_code == 403
    for address in ("stand/", "remove/", "use/"):
        assert bench.get(f"/models/{egg.pk}/{address}").status_code == 403
    for address in ("planes/axis/", "planes/find/", "planes/take/mirror/", "again/"):
        assert bench.post(f"/models/{egg.pk}/{address}").status_code == 403
    assert bench.get(f"/commissions/{egg.commission_id}/form/model/").status_code == 403


def test_a_stranger_signs_in_first(egg: CommissionModel) -> None:
    for address in ("", "view/", "original/", "stand/", "use/"):
        assert Client().get(f"/models/{egg.pk}/{address}").headers["Location"].startswith("/sign-in/")


def test_the_original_comes_back_as_it_was_sent_and_as_no_page(office: Client, egg: CommissionModel) -> None:
    answer = office.get(f"/models/{egg.pk}/original/")
    assert b"".join(answer.streaming_content) == egg.file.path.read_bytes()  # type: ignore[attr-defined]
    assert answer.headers["Content-Disposition"] == 'attachment; filename="egg.stl"'
    assert answer.headers["Content-Security-Policy"].startswith("sandbox")
    assert answer.headers["X-Content-Type-Options"] == "nosniff"


def test_the_sheet_takes_as_many_queries_however_many_planes(
    office: Client, egg: CommissionModel, django_assert_max_num_queries: object
) -> None:
    def queries() -> int:
        with django_assert_max_num_queries(60) as seen:  # type: ignore[operator]
            office.get(f"/models/{egg.pk}/")
        return len(seen)

    before = queries()
    for at in ("0.8 m", "1.6 m", "2.4 m"):
        office.post(f"/models/{egg.pk}/planes/axis/", {"axis-axis": "z", "axis-at": at})
    worked(egg)
    assert queries() == before


def test_a_model_is_removed_after_asking_and_its_sections_stay(office: Client, egg: CommissionModel) -> None:
    office.post(f"/models/{egg.pk}/use/", {"name_1": "Egg"})
    assert "Keep it" in text(office, f"/models/{egg.pk}/remove/")
    office.post(f"/models/{egg.pk}/remove/")
    assert not CommissionModel.objects.exists()
    page = text(office, f"/commissions/{egg.commission_id}/form/")
    assert "Egg" in page
    assert "<svg" in page


def test_work_that_was_stopped_can_be_asked_for_again(office: Client) -> None:
    model = make_model(make_commission(), User.objects.get())
    office.post(f"/work/{model.work.pk}/stop/")
    page = text(office, f"/models/{model.pk}/")
    assert "Stopped. Nothing was changed." in page
    office.post(f"/models/{model.pk}/again/")
    assert worked(model).figures["area_m2"] > 10
