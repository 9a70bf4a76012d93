"""A browser whose requests are answered here, by the program itself: its pages and scripts with no server between."""

import mimetypes
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from django.contrib.staticfiles import finders
from django.db import DEFAULT_DB_ALIAS, connections
from django.http import HttpResponse
from django.test import Client
from playwright.sync_api import Browser, Page, Request, Route

HOME = "http://127.0.0.1"
PHONE, DESK, NARROW = (360, 740), (1280, 800), (320, 740)
LEADS_ON = '<!doctype html><title>Going on</title><meta http-equiv="refresh" content="0; url={}">'
# What the program sets itself, and a made-up answer may not.
LEFT_OUT = {"content-length", "content-encoding", "transfer-encoding"}


class Driven:
    """One page of a browser, and what it complains of."""

    def __init__(self, page: Page, client: Client) -> None:
        self.page, self.client = page, client
        self.complaints: list[str] = []
        # The driver calls back from a context of its own, in which Django would open another connection.
        self._held = connections[DEFAULT_DB_ALIAS]
        self._ready: dict[str, HttpResponse] = {}
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._heard)
        page.route("**/*", self._answer)

    def open(self, path: str, answer: HttpResponse | None = None) -> None:
        """Go to an address; ``answer`` stands in for what the program would say."""
        if answer is not None:
            self._ready[path] = answer
        self.page.goto(HOME + path, wait_until="load")

    def _heard(self, said: Any) -> None:
        if "Content Security Policy" in said.text:
            self.complaints.append(said.text)

    def _answer(self, route: Route, request: Request) -> None:
        parts = urlsplit(request.url)
        path = f"{parts.path}?{parts.query}" if parts.query else parts.path
        if not request.url.startswith(f"{HOME}/"):
            route.abort()
        elif path.startswith("/static/"):
            self._file(route, path.removeprefix("/static/"))
        else:
            answer = self._ready.pop(path, None) or self._asked(request, path)
            if answer.status_code in (301, 302) and request.is_navigation_request():
                # A made-up answer cannot lead the browser elsewhere by its status.
                page = LEADS_ON.format(escape(answer.headers["Location"]))
                route.fulfill(body=page, content_type="text/html")
                return
            headers = {name: value for name, value in answer.headers.items() if name.lower() not in LEFT_OUT}
            route.fulfill(status=answer.status_code, headers=headers, body=answer.content)

    def _asked(self, request: Request, path: str) -> HttpResponse:
        sent = {name: value for name, value in request.headers.items() if name not in ("cookie", "content-type")}
        kind = request.headers.get("content-type", "application/octet-stream")
        body = request.post_data_buffer or b""
        connections[DEFAULT_DB_ALIAS] = self._held
        return self.client.generic(request.method, path, body, content_type=kind, headers=sent)

    def _file(self, route: Route, name: str) -> None:
        found = finders.find(name)
        if found is None:
            route.fulfill(status=404)
        else:
            kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
            route.fulfill(body=Path(found).read_bytes(), content_type=kind)


@contextmanager
def driven(browser: Browser, client: Client, size: tuple[int, int], *, script: bool = True) -> Iterator[Driven]:
    """A browser window of that size in which somebody has signed in."""
    width, height = size
    viewport = {"width": width, "height": height}
    context = browser.new_context(viewport=viewport, java_script_enabled=script, service_workers="block")
    try:
        yield Driven(context.new_page(), client)
    finally:
        context.close()
