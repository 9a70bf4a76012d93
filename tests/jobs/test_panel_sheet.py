"""The panel check on its page: flats from dimensions and models, or as entered."""

import re
from html import unescape
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import Commission, CommissionModel, Section
from jobs.sheets.flats import flats_of
from jobs.sheets.known import Job, Subject
from jobs.sheets.registry import offered
from materials.models import ModelFile
from studio.accounts.models import Role, User
from tests.factories import make_commission, make_section, signed_in

pytestmark = pytest.mark.django_db


def check(client: Client, section: Section, **asked: object) -> tuple[int, str]:
    query = urlencode({"section": section.pk, **asked})
    page = client.get(f"{reverse('sheet', args=[section.commission_id, 'panel'])}?{query}")
    return page.status_code, re.sub(r"\s+", " ", unescape(page.content.decode()))


def box(commission: Commission, *sides: str) -> Section:
    dimensions = dict(zip(("length", "width", "height"), sides, strict=True))
    return make_section(commission, "Plinth", shape="box", dimensions=dimensions)


def test_a_metre_square_in_a_light_skin_is_too_flexible_and_no_deflection_is_forecast() -> None:
    section = box(make_commission(), "1 m", "1 m", "1 m")
    status, body = check(signed_in(Role.BENCH), section)
    assert status == 200
    assert "too flexible as a flat single skin" in body
    assert "34.4" not in body
    assert re.search(r"Plies:</b> \d+ more of 450 g/m²", body)
    assert re.search(r"Core:</b> \d+ mm between two halves", body)


def test_a_small_panel_of_ones_own_passes() -> None:
    section = box(make_commission(), "1 m", "1 m", "1 m")
    status, body = check(signed_in(Role.BENCH), section, long="12 cm", short="12 cm", push="50")
    assert status == 200
    assert "Stiff and strong enough as it is" in body


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"long": "1 m"}, "Enter both sides of the panel, or neither."),
        ({"long": "1 m", "short": "2 m"}, "Enter the longer side as the longer one."),
        ({"long": "wide", "short": "1 m"}, "is not a length"),
        ({"wind": "9999"}, "too large"),
        ({"glass": "guessed"}, "Choose how the glass content is known."),
        ({"long": "1 m", "short": "1 mm"}, "Short side of the panel is 0.001 m"),
    ],
)
def test_what_is_asked_wrongly_is_refused(asked: dict[str, str], told: str) -> None:
    status, body = check(signed_in(Role.BENCH), box(make_commission(), "1 m", "1 m", "1 m"), **asked)
    assert status == 422
    assert told in body


def test_a_round_section_is_not_offered_and_says_so_when_opened() -> None:
    commission = make_commission()
    section = make_section(commission, "Ball", shape="sphere", dimensions={"diameter": "1 m"})
    assert "panel" not in [each.kind.key for each in offered(Job(commission))]
    assert "enter the sides of a panel" in check(signed_in(Role.BENCH), section)[1]


def test_the_faces_of_boxes_and_prisms_are_found() -> None:
    commission = make_commission()
    plinth = box(commission, "2 m", "1 m", "0.5 m")
    sides = [(flat.long_m, flat.short_m) for flat in flats_of(Subject(Job(commission), plinth))]
    assert sides == [(2, 1), (2, 0.5), (1, 0.5)]
    prism = make_section(
        commission, "Fin", shape="prism", dimensions={"polygon": "0 0\n3 0\n3 4", "unit": "m", "height": "1 m"}
    )
    assert [flat.long_m for flat in flats_of(Subject(Job(commission), prism))] == pytest.approx([5, 4, 3])


def test_a_models_flats_go_to_the_part_their_middle_lies_in() -> None:
    commission, by = make_commission(), signed_in(Role.OWNER) and User.objects.get()
    file = ModelFile.objects.create(sha256="0" * 64, name="tower.stl", size=1, format="stl", sent_by=by)
    facets = [
        {"area_m2": 1.2, "length_m": 1.5, "width_m": 0.8, "centre_m": [0, -0.5, 0.4], "normal": [0, -1, 0]},
        {"area_m2": 0.9, "length_m": 1.0, "width_m": 0.9, "centre_m": [0.5, 0, 1.4], "normal": [1, 0, 0]},
    ]
    parts = [
        {"name": name, "extents_m": [1.0, 1.0, 1.0], "place_m": [0, 0, height]}
        for name, height in (("1", 0.0), ("2", 1.0))
    ]
    model = CommissionModel.objects.create(
        commission=commission, name="Tower", file=file, figures={"facets": facets}, cut={"sections": parts}
    )
    top = make_section(commission, "Top", shape="mesh", dimensions={"model": model.pk, "part": "2"})
    found = flats_of(Subject(Job(commission), top))
    assert [(flat.words, flat.long_m, flat.short_m) for flat in found] == [("flat facing right", 1.0, 0.9)]
