"""The one page on which an item, a pack or a price is entered."""

from collections.abc import Sequence

from django import forms
from django.http import HttpResponse
from django.shortcuts import render

from materials.models import Item
from studio.access import MemberRequest

Facts = Sequence[tuple[str, str]]


def entry_page(
    request: MemberRequest,
    form: forms.Form,
    *,
    title: str,
    act: str,
    item: Item | None = None,
    there_now: Facts = (),
) -> HttpResponse:
    """The form as it stands: 200 to be filled in, 422 with errors, 409 with what somebody else has saved since."""
    context = {"place": "stores", "form": form, "title": title, "act": act, "item": item, "there_now": there_now}
    status = 422 if form.errors else 409 if there_now else 200
    return render(request, "materials/entry.html", context, status=status)
