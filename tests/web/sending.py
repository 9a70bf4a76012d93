"""Browsing and sending forms as people and scripts do, with nothing of it kept."""

from copy import deepcopy
from typing import Any
from urllib.parse import urlencode, urlsplit

from django.db import transaction
from django.http import HttpResponse
from django.test import Client

from tests.web.pages import Form, Page

ENCODED = "application/x-www-form-urlencoded"


class Browser(Client):
    """A browser that reads a file to its end, as it reads a page."""

    def request(self, **request: Any) -> Any:
        response = super().request(**request)
        if not response.streaming:
            return response
        # Read to its end, the answer closes itself.
        return HttpResponse(b"".join(response), status=response.status_code, headers=response.headers)


def sent(client: Client, form: Form, changes: dict[str, str]) -> HttpResponse:
    """The answer to a form with some fields changed; its effect is taken back, signing out included."""
    data = form.sent() | {name: [value] for name, value in changes.items()}
    body = urlencode(data, doseq=True, errors="surrogatepass")
    with transaction.atomic():
        before = deepcopy(client.cookies)
        if form.method == "post":
            response = client.generic("POST", form.action, body.encode(), content_type=ENCODED)
        else:
            response = client.get(f"{urlsplit(form.action).path}?{body}")
        client.cookies = before
        transaction.set_rollback(True)
    return response


def shown_again(response: HttpResponse, form: Form) -> dict[str, str] | None:
    """What the form holds on the answer, by field; passwords are never shown again."""
    for again in Page(response.content.decode(), form.action).forms:
        if again.method == form.method and again.typed() == form.typed():
            return {each.name: each.value for each in again.fields if each.is_typed and each.kind != "password"}
    return None
