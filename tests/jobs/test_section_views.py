"""The Form sheet: sections by their dimensions, what they look like and what they take."""

from typing import Any

import pytest
from django.test import Client

from jobs.models import Commission, Section
from jobs.specs import section_spec
from materials.estimator.takeoff import take_off
from materials.queries.figures import studio_figures
from materials.specfile import read_spec
from studio.accounts.models import AuditEntry, Role
from tests.factories import make_commission, make_person, make_section

pytestmark = pytest.mark.django_db

BALL = {
    "shape": "sphere", "dim_diameter": "1.6 m", "name": "Ball", "grade": "B", "count": "1", "pattern_method": "carved",
    "pieces": "4", "pulls": "1", "crated": "on", "version": "0",
}  # fmt: skip


@pytest.fixture
def office(client: Client) -> Client:
    client.force_login(make_person(Role.OFFICE))
    return client


@pytest.fixture
def commission() -> Commission:
    return make_commission()


def test_adding_a_section_leads_to_its_outline_and_take_off(office: Client, commission: Commission) -> None:
    response = office.post(f"/commissions/{commission.pk}/form/new/", BALL, follow=True)
    page = response.content.decode()
    section = Section.objects.get()
    assert response.redirect_chain[-1][0] == f"/sections/{section.pk}/"
    assert "<svg" in page
    # A 1.6 m ball: 8.04 m2 of skin and 2.14 m3, closed forms.
    assert "8.04\u2009m²" in page or "8.04 m²" in page
    assert 'Show<span class="unseen"> the working of Gel coat</span>' in page
    assert AuditEntry.objects.about(commission.subject).get().act == "Section added: Ball"


def test_the_page_shows_what_the_estimator_works_out(office: Client, commission: Commission) -> None:
    section = make_section(commission)
    figures = studio_figures()
    worked = take_off(read_spec({"name": "x", "sections": [section_spec(section)]}, defaults=figures))
    page = office.get(f"/sections/{section.pk}/").content.decode()
    for line in worked.lines:
        assert line.formula.replace("'", "&#x27;") in page, line.material
    assert page.count('class="working"') == len(worked.lines) + len(worked.hours)


def test_the_same_fragment_comes_while_typing_and_nothing_is_kept(office: Client, commission: Commission) -> None:
    response = office.post(f"/commissions/{commission.pk}/form/try/", BALL, headers={"HX-Request": "true"})
    page = response.content.decode()
    assert response.status_code == 200
    assert "<svg" in page
    assert "4 pieces" in page
    assert not Section.objects.exists()


def test_half_a_section_is_told_what_it_wants_yet(office: Client, commission: Commission) -> None:
    response = office.post(f"/commissions/{commission.pk}/form/try/", {**BALL, "dim_diameter": "1.6"})
    assert response.status_code == 200
    assert "The outline and the figures appear here" in response.content.decode()
    assert "Diameter:" in response.content.decode()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"dim_diameter": ""}, "Enter the diameter with its unit, such as 2.6 m."),
        ({"dim_diameter": "1.6"}, "1.6"),
        ({"dim_diameter": "9**9**9 m"}, "9**9**9 m"),
        ({"pieces": "0"}, "Enter a whole number from 1 to 60."),
        ({"pieces": "many"}, "Enter a whole number from 1 to 60."),
        ({"name": ""}, "Enter what this part is called, such as Base."),
        ({"return_width": "ninety"}, "ninety"),
        ({"metal_height": "low"}, "low"),
        ({"metal_offset": "a bit left"}, "a bit left"),
    ],
)
def test_it_says_what_to_put_right_and_keeps_what_was_typed(
    office: Client, commission: Commission, changed: dict[str, str], said: str
) -> None:
    response = office.post(f"/commissions/{commission.pk}/form/new/", {**BALL, "seam": "10.05 m", **changed})
    page = response.content.decode()
    assert response.status_code == 422
    assert "There is a problem" in page
    assert said in page
    assert 'value="10.05 m"' in page
    assert not Section.objects.exists()


def test_another_shape_asks_for_its_own_dimensions(office: Client, commission: Commission) -> None:
    page = office.get(f"/commissions/{commission.pk}/form/new/", {"shape": "torus"}).content.decode()
    assert 'name="dim_ring_diameter"' in page
    assert 'name="dim_bottom_diameter"' not in page


def test_a_shape_that_is_none_falls_back_to_one_that_is(office: Client, commission: Commission) -> None:
    response = office.get(f"/commissions/{commission.pk}/form/new/", {"shape": "blob"})
    assert response.status_code == 200


@pytest.mark.parametrize(
    ("shape", "dimensions"),
    [
        ("turned", {"dim_profile": "0.3 0\n0.5 0.4\n0.2 1.1", "dim_unit": "m"}),
        ("prism", {"dim_polygon": "0 0\n1.2 0\n0.6 0.9", "dim_unit": "m", "dim_height": "2 m"}),
        ("superellipsoid", {"dim_a": "0.5 m", "dim_b": "50 cm", "dim_c": "8 in", "dim_e1": "0,8", "dim_e2": "1"}),
        (
            "measured",
            {"dim_area": "3.2 m2", "dim_volume": "", "dim_length": "1 m", "dim_width": "1 m", "dim_height": "1 m"},
        ),
    ],
)
def test_every_kind_of_dimension_can_be_typed(
    office: Client, commission: Commission, shape: str, dimensions: dict[str, str]
) -> None:
    given = {name: value for name, value in BALL.items() if name != "dim_diameter"}
    response = office.post(
        f"/commissions/{commission.pk}/form/new/", {**given, "shape": shape, **dimensions}, follow=True
    )
    assert response.status_code == 200, response.content.decode()
    assert "<svg" in response.content.decode()


def test_a_name_is_given_once_in_a_commission(office: Client, commission: Commission) -> None:
    make_section(commission, "Ball")
    response = office.post(f"/commissions/{commission.pk}/form/new/", BALL)
    assert response.status_code == 422
    assert "already has a section called Ball" in response.content.decode()


def test_a_section_can_change_its_shape(office: Client, commission: Commission) -> None:
    section = make_section(commission)
    response = office.post(f"/sections/{section.pk}/change/", BALL)
    assert response.status_code == 302
    section.refresh_from_db()
    assert (section.shape, section.dimensions) == ("sphere", {"diameter": "1.6 m"})


def test_the_second_to_save_a_section_is_told(office: Client, commission: Commission) -> None:
    section = make_section(commission)
    office.post(f"/sections/{section.pk}/change/", BALL)
    late = office.post(f"/sections/{section.pk}/change/", {**BALL, "dim_diameter": "2 m"})
    assert late.status_code == 409
    assert 'value="2 m"' in late.content.decode()
    section.refresh_from_db()
    assert section.dimensions == {"diameter": "1.6 m"}


def test_a_section_moves_up_and_the_first_stays(office: Client, commission: Commission) -> None:
    base, crown = make_section(commission, "Base"), make_section(commission, "Crown")
    office.post(f"/sections/{crown.pk}/up/")
    assert [section.name for section in commission.sections.all()] == ["Crown", "Base"]
    office.post(f"/sections/{crown.pk}/up/")
    assert [section.name for section in commission.sections.all()] == ["Crown", "Base"]
    assert base.pk


def test_removing_asks_first(office: Client, commission: Commission) -> None:
    section = make_section(commission)
    assert "Remove Base from The Long Pear?" in office.get(f"/sections/{section.pk}/remove/").content.decode()
    assert Section.objects.exists()
    office.post(f"/sections/{section.pk}/remove/")
    assert not Section.objects.exists()
    assert AuditEntry.objects.about(commission.subject).get().before["name"] == "Base"


def test_the_bench_sees_the_form_and_changes_nothing(client: Client, commission: Commission) -> None:
    section = make_section(commission)
    client.force_login(make_person(Role.BENCH))
    assert client.get(f"/commissions/{commission.pk}/form/").status_code == 200
    page = client.get(f"/sections/{section.pk}/").content.decode()
    assert "Change this section" not in page
    for path in (f"/sections/{section.pk}/change/", f"/sections/{section.pk}/up/", f"/sections/{section.pk}/remove/"):
        assert client.post(path, BALL).status_code == 403
    assert client.post(f"/commissions/{commission.pk}/form/new/", BALL).status_code == 403
    assert Section.objects.count() == 1


def test_the_form_sheet_takes_as_many_queries_for_ten_sections_as_for_one(
    office: Client, commission: Commission, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    make_section(commission)
    with django_assert_max_num_queries(20) as one:
        office.get(f"/commissions/{commission.pk}/form/")
    for number in range(9):
        make_section(commission, f"Ring {number}")
    with django_assert_num_queries(len(one)):
        office.get(f"/commissions/{commission.pk}/form/")


def test_a_section_that_cannot_be_read_says_why_and_the_sheet_still_stands(
    office: Client, commission: Commission
) -> None:
    make_section(commission, dimensions={"bottom_diameter": "0.9 m", "top_diameter": "1.5 m", "height": "900 m"})
    page = office.get(f"/commissions/{commission.pk}/form/").content.decode()
    assert "900 m" in page
    assert "not worked out" in page


def test_us_units_are_shown_where_the_house_wants_them(office: Client, commission: Commission) -> None:
    from studio.office.models import House

    House.objects.update(units="us")
    section = make_section(commission)
    page = office.get(f"/sections/{section.pk}/").content.decode()
    assert "lb" in page
    assert "ft²" in page or "sq ft" in page
