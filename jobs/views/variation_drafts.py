"""Writing a variation: what it says, the sections that change, what is in words, and what is done again."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.variations import AgainForm, ItemsForm, SectionsForm, WordsForm
from jobs.models import Commission, Origin, Variation
from jobs.services.drafts import Refused
from jobs.services.variation_pricing import asked_of
from jobs.services.variations import change_items, change_sections, change_words, choose_reopened, raise_variation
from jobs.views.keeping import try_to_keep
from jobs.views.price import commission_of
from studio.access import MemberRequest, office_only
from studio.forms import EditForm
from studio.locking import Conflict


def variation_of(pk: int, serial: int, *wanted: str) -> Variation:
    """One variation of a commission, with the large fields that are wanted, or 404."""
    commission = commission_of(pk)
    found = commission.variations.light().filter(serial=serial).first()
    if found is None:
        raise Http404
    found.commission = commission
    if wanted:
        found.refresh_from_db(fields=list(wanted))
    return found


def _kept(
    request: MemberRequest, template: str, variation: Variation, made: Callable[[Any], Any], keep: Callable[..., None]
) -> HttpResponse:
    """One part of a draft: show its form, or keep what was entered; ``made`` makes the form from what was sent."""
    form = made(request.POST or None)

    def now() -> EditForm:
        variation.refresh_from_db()
        there: EditForm = made(None)
        return there

    tried = try_to_keep(form, lambda: keep(form), (Refused,), now=now)
    if tried.kept:
        messages.success(request, f"Variation {variation} is saved.")
        return redirect("variation", variation.commission_id, variation.serial)
    context = {
        "place": "commissions",
        "commission": variation.commission,
        "sheet": "price",
        "variation": variation,
        "form": form,
        "there_now": tried.there_now,
    }
    return render(request, f"jobs/variations/{template}.html", context, status=tried.status)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def new_variation(request: MemberRequest, pk: int) -> HttpResponse:
    """Raise a variation; ``?snag=`` begins with a snag, ``?sign_off=`` with the comment on a sign-off."""
    commission = commission_of(pk)
    form = WordsForm(request.POST or None, commission=commission, begins=_begins(request, commission))
    if request.method == "POST" and form.is_valid():
        try:
            variation = raise_variation(
                by=request.user, commission=commission, words=form.cleaned_data, at=timezone.now()
            )
        except Refused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"Variation {variation} is begun. Say now what it changes.")
            return redirect("variation", pk, variation.serial)
    context = {"place": "commissions", "commission": commission, "sheet": "price", "form": form}
    return render(request, "jobs/variations/new.html", context, status=422 if form.errors else 200)


def _begins(request: MemberRequest, commission: Commission) -> dict[str, Any]:
    """What a new variation begins with, from what it is raised from."""
    snag = commission.snags.filter(pk=_number(request.GET.get("snag", ""))).first()
    if snag is not None:
        return {"origin": Origin.SNAG, "snag": snag, "scope": snag.what}
    found = commission.sign_offs.listed().filter(answer__isnull=False)
    sign_off = found.filter(pk=_number(request.GET.get("sign_off", ""))).first()
    if sign_off is not None and sign_off.given is not None:
        return {"origin": Origin.SIGN_OFF, "sign_off": sign_off, "scope": sign_off.given.words}
    return {}


def _number(typed: str) -> int:
    return int(typed) if typed.isascii() and typed.isdecimal() and len(typed) < 10 else 0


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def variation_words(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """What a draft says, its days and how long it will be valid."""
    variation = variation_of(pk, serial)

    def made(data: Any) -> WordsForm:
        return WordsForm(data, commission=variation.commission, variation=variation)

    def keep(form: WordsForm) -> None:
        version = form.cleaned_data["version"]
        change_words(by=request.user, variation=variation, version=version, words=form.cleaned_data)

    return _kept(request, "words", variation, made, keep)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def variation_sections(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """What changes of the sections."""
    variation = variation_of(pk, serial)
    sections = list(variation.commission.sections.select_related("mould_lay_up", "cast_lay_up", "paint_system"))

    def made(data: Any) -> SectionsForm:
        return SectionsForm(data, asked=asked_of(variation), drawn=sections)

    def keep(form: SectionsForm) -> None:
        version = form.cleaned_data["version"]
        change_sections(by=request.user, variation=variation, version=version, changes=form.changes)

    return _kept(request, "sections", variation, made, keep)


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def variation_lines(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """What is added or left out that the take-off does not know."""
    variation = variation_of(pk, serial)
    stages = list(variation.commission.stages.select_related("section").order_by("section__position", "position"))

    def made(data: Any) -> ItemsForm:
        return ItemsForm(data, variation=variation, stages=stages)

    def keep(form: ItemsForm) -> None:
        change_items(by=request.user, variation=variation, version=form.cleaned_data["version"], items=form.items())

    return _kept(request, "lines", variation, made, keep)


@office_only
@require_POST
def variation_again(request: MemberRequest, pk: int, serial: int) -> HttpResponse:
    """Choose which of the stages that are done are done again."""
    variation = variation_of(pk, serial)
    form = AgainForm(request.POST, offered=list(variation.commission.stages.select_related("section")))
    if not form.is_valid():
        messages.error(request, "That stage is not one of this commission; choose from those that are listed.")
        return redirect("variation", pk, serial)
    try:
        version, codes = form.cleaned_data["version"], form.cleaned_data["stages"]
        choose_reopened(by=request.user, variation=variation, version=version, codes=codes)
    except Refused as refused:
        messages.error(request, str(refused))
    except Conflict:
        messages.error(request, "The variation was changed meanwhile; look at it, then choose again.")
    else:
        messages.success(request, "What is done again is chosen; price and days are worked out by it.")
    return redirect("variation", pk, serial)
