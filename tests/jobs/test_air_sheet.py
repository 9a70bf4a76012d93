"""The air sheet on its page."""

import re
from html import unescape
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import Commission
from studio.accounts.models import Role
from tests.factories import make_commission, make_section, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    found = make_commission()
    make_section(found, "Base")
    return found


def sheet(client: Client, commission: Commission, **asked: object) -> tuple[int, str]:
    page = client.get(f"{reverse('sheet', args=[commission.pk, 'air'])}?{urlencode(asked)}")
    return page.status_code, re.sub(r"\s+", " ", unescape(page.content.decode()))


def test_a_small_room_is_told_to_extract_and_to_wear_breathing_protection(commission: Commission) -> None:
    asked = {"stage": "mould", "layer": "all", "room": "60 m3", "changes": "1"}
    status, body = sheet(signed_in(Role.BENCH), commission, **asked)
    assert status == 200
    assert "Dilution is not believable here: extract at the work, and wear breathing protection" in body
    assert "peak while it is laid" in body


def test_a_large_well_aired_room_can_carry_a_small_job(commission: Commission) -> None:
    asked = {"stage": "cast", "layer": "session-1", "area": "0.5 m2", "room": "2000 m3", "changes": "15", "people": "1"}
    status, body = sheet(signed_in(Role.BENCH), commission, **asked)
    assert status == 200
    assert "can carry this work by the reckoning" in body


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"changes": "0"}, "without fresh air"),
        ({"room": "0.5 m3"}, "Room is 0.5 m³; it must be between 1"),
        ({"room": "large"}, "is not a volume"),
        ({"method": "poured"}, "Choose how it is put on."),
        ({"filler": "80"}, "too large"),
    ],
)
def test_what_cannot_be_is_refused(commission: Commission, asked: dict[str, str], told: str) -> None:
    status, body = sheet(signed_in(Role.BENCH), commission, **asked)
    assert status == 422
    assert told in body
