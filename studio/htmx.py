"""One view, two answers: the whole page, or the fragment that the page includes."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django_htmx.middleware import HtmxDetails


def wants_fragment(request: HttpRequest) -> bool:
    """Whether htmx asked for part of the page. A history restore wants the whole page."""
    htmx: HtmxDetails = request.htmx  # type: ignore[attr-defined]
    return bool(htmx) and not htmx.history_restore_request


def render_page(
    request: HttpRequest, page: str, fragment: str, context: Mapping[str, Any], status: int = 200
) -> HttpResponse:
    """Render ``fragment`` to htmx and ``page``, which includes it, to everyone else; both from one context."""
    response = render(request, fragment if wants_fragment(request) else page, dict(context), status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response
