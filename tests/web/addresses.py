"""Every address of the program: as the URL configuration declares it, and as pages lead to it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import parse_qs, urlsplit

from django.http import HttpResponse
from django.test import Client
from django.urls import Resolver404, URLPattern, URLResolver, get_resolver, resolve

from tests.web.pages import Form, Page

EXAMPLES = 3
# Its forms are filled in by its script, from what the phone has kept.
SHELL = "bench/shell/"


@dataclass(frozen=True, slots=True)
class Route:
    """One line of the URL configuration."""

    pattern: str
    view: Callable[..., HttpResponse]

    @property
    def allowed(self) -> frozenset[str] | None:
        """The roles that the view declares, or nothing."""
        return getattr(self.view, "allowed_roles", None)


def routes() -> dict[str, Route]:
    """Every line of the URL configuration, by its pattern."""
    return {route.pattern: route for route in _routes(get_resolver(), "")}


def _routes(resolver: URLResolver, before: str) -> Iterator[Route]:
    for entry in resolver.url_patterns:
        pattern = before + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _routes(entry, pattern)
        elif isinstance(entry, URLPattern):
            yield Route(pattern, entry.callback)


@dataclass(frozen=True, slots=True)
class Address:
    """One place a person can be: the address, and the route it takes."""

    path: str
    route: str
    values: dict[str, Any]


def address(path: str) -> Address | None:
    """The address with its route, if it is one of the program's."""
    try:
        match = resolve(urlsplit(path).path)
    except Resolver404:
        return None
    return Address(path, match.route, match.kwargs)


@dataclass(slots=True)
class Walk:
    """What was found by following every link and form from page to page: addresses by route, and forms by kind."""

    addresses: dict[str, list[Address]] = field(default_factory=dict)
    forms: dict[tuple[str, ...], Form] = field(default_factory=dict)

    def note(self, page: Page) -> None:
        """Take in a page's forms: one of a kind, by where it leads and what it asks."""
        for form in page.forms:
            leads = address(form.action)
            names = sorted({each.name for each in form.fields})
            self.forms.setdefault((leads.route if leads else form.action, form.method, *names), form)


def walk(client: Client, *begin: str) -> Walk:
    """Go to a few examples of every kind of page.

    Addresses that only take a POST are among them, for a form leads there.
    """
    found = Walk()
    waiting, seen, kinds = list(begin), set(begin), dict[tuple[str, ...], int]()
    while waiting:
        here = address(waiting.pop(0))
        if here is None:
            continue
        kind = (here.route, *sorted(parse_qs(urlsplit(here.path).query)))
        kinds[kind] = kinds.get(kind, 0) + 1
        if kinds[kind] > EXAMPLES:
            continue
        found.addresses.setdefault(here.route, []).append(here)
        response = client.get(here.path)
        leads = [response.headers["Location"]] if response.status_code == 302 else []
        if response.headers.get("Content-Type", "").startswith("text/html"):
            page = Page(response.content.decode(), here.path)
            if here.route != SHELL:
                found.note(page)
            leads += page.addresses
        waiting += [path for path in leads if path not in seen]
        seen.update(leads)
    return found
