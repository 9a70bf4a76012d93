"""No line of the log holds the token of a link: neither refusals nor faults, nor what a traceback says."""

import io
import logging
import logging.config
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import path
from django.utils.log import DEFAULT_LOGGING

from studio.link_paths import without_tokens
from studio.urls import handler400, handler403, handler404, handler500, urlpatterns

pytestmark = pytest.mark.django_db
TOKEN = "Qm9hdHlhcmQtdG9rZW4tdGhhdC1tdXN0LW5vdC1sZWFrLTE"


def broken(request: HttpRequest, token: str) -> HttpResponse:
    raise RuntimeError(f"failed at {request.path}")


class Addresses:
    """The program's addresses, and one below a token that fails."""

    urlpatterns = [path("l/<str:token>/broken/", broken), *urlpatterns]
    handler400, handler403, handler404, handler500 = handler400, handler403, handler404, handler500


@pytest.fixture
def written() -> Iterator[io.StringIO]:
    """What the program's own configuration writes, set over Django's as when it starts."""
    stream, wanted = io.StringIO(), deepcopy(settings.LOGGING)
    wanted["handlers"]["console"]["stream"] = stream
    logging.config.dictConfig(DEFAULT_LOGGING)
    logging.config.dictConfig(wanted)
    yield stream
    logging.config.dictConfig(DEFAULT_LOGGING)
    logging.config.dictConfig(settings.LOGGING)


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        (f"Not Found: /l/{TOKEN}/", "Not Found: /l/…/"),
        (f'"GET /l/{TOKEN}/photos/3/full.jpg HTTP/1.1" 200', '"GET /l/…/photos/3/full.jpg HTTP/1.1" 200'),
        (f"https://studio.example/l/{TOKEN}?page=2 and /l/{TOKEN}", "https://studio.example/l/…?page=2 and /l/…"),
        ("GET /label/sheets/ 200", "GET /label/sheets/ 200"),
    ],
)
def test_a_token_is_left_out_and_the_rest_stays(said: str, kept: str) -> None:
    assert without_tokens(said) == kept


@pytest.mark.parametrize("debug", [True, False])
def test_the_log_holds_the_place_and_not_the_token(
    written: io.StringIO, capfd: pytest.CaptureFixture[str], settings: Any, debug: bool
) -> None:
    settings.DEBUG, settings.ROOT_URLCONF = debug, Addresses
    client = Client(raise_request_exception=False, enforce_csrf_checks=True)
    statuses = [
        client.get(f"/l/{TOKEN}/").status_code,
        client.get(f"/l/{TOKEN}/nowhere").status_code,
        client.post(f"/l/{TOKEN}/").status_code,
        client.get(f"/l/{TOKEN}/broken/").status_code,
    ]
    assert statuses == [404, 404, 403, 500]
    logging.getLogger("django.server").info('"GET /l/%s/ HTTP/1.1" 200', TOKEN)
    lines = written.getvalue()
    assert lines.count("/l/…/") >= 5
    assert "RuntimeError: failed at /l/…/broken/" in lines
    assert 'GET /l/…/ HTTP/1.1" 200' in lines
    # Nor does another handler write beside it.
    assert TOKEN not in lines + "".join(capfd.readouterr())
