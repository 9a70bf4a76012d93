"""The studio's figures: every coefficient with unit, usual range, source and last check."""

import datetime
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials.forms.figures import BackForm, FigureForm
from materials.models import Figure
from materials.services.figures import Impossible, change_figure
from materials.units import unit_text
from studio.access import MemberRequest, office_only
from studio.forms import plain_number
from studio.locking import Conflict

EVIDENCE = {
    "found": "published",
    "found-secondary": "published, seen second-hand",
    "memory": "from memory",
    "practice": "common practice, no source",
    "derived": "follows from its definition",
}


@dataclass(frozen=True, slots=True)
class FigureShown:
    """A figure as the page prints it."""

    row: Figure

    @property
    def unit(self) -> str:
        """Its unit, set as people read it."""
        return "%" if self.row.unit == "percent" else unit_text(self.row.unit)

    @property
    def evidence(self) -> str:
        """How well it is known, and from where."""
        words = EVIDENCE.get(self.row.evidence, self.row.evidence)
        rest = self.row.source.removeprefix(words).removesuffix(f", {words}").lstrip(":; ")
        return f"{words}: {rest}" if rest else words

    @property
    def is_unusual(self) -> bool:
        """Whether the value in use lies outside the usual range."""
        return not self.row.low <= self.row.value <= self.row.high

    @property
    def is_changed(self) -> bool:
        """Whether the studio uses another value than was delivered."""
        return self.row.value != self.row.begun_with


@office_only
@require_safe
def figures(request: MemberRequest) -> HttpResponse:
    """Every figure by its topic, or those alone that are due for a check."""
    rows = list(Figure.objects.order_by("pk"))
    due = [row for row in rows if row.is_due]
    topics: dict[str, list[FigureShown]] = {}
    only_due = "due" in request.GET
    for row in due if only_due else rows:
        topics.setdefault(row.topic, []).append(FigureShown(row))
    context = {
        "place": "office",
        "office_sheet": "figures",
        "topics": topics,
        "due": len(due),
        "only_due": only_due,
    }
    return render(request, "materials/figures.html", context)


def _keep(
    request: MemberRequest, row: Figure, version: int, value: float, checked_on: datetime.date | None = None
) -> HttpResponse:
    change_figure(by=request.user, figure=row, version=version, value=value, checked_on=checked_on)
    name = row.label[0].upper() + row.label[1:]
    messages.success(request, f"{name} is now {plain_number(value)} {FigureShown(row).unit}".rstrip() + ".")
    if FigureShown(row).is_unusual:
        usual = f"{plain_number(row.low)} to {plain_number(row.high)} {FigureShown(row).unit}".rstrip()
        messages.warning(request, f"{name}: the value lies outside the usual {usual}. Check that it is meant.")
    return redirect("figures")


@office_only
@require_http_methods(["GET", "HEAD", "POST"])
def figure(request: MemberRequest, pk: int) -> HttpResponse:
    """Change a figure; one outside its usual range is taken with a caution, an impossible one refused."""
    row = get_object_or_404(Figure, pk=pk)
    form, status = FigureForm(request.POST if request.method == "POST" else None, figure=row), 200
    context = {"place": "office", "office_sheet": "figures", "form": form, "shown": FigureShown(row)}
    if request.method == "POST" and form.is_valid():
        try:
            entered = form.cleaned_data
            return _keep(request, row, entered["version"], float(entered["value"]), entered["checked_on"])
        except Impossible as error:
            form.add_error("value", str(error))
        except Conflict:
            now = Figure.objects.get(pk=pk)
            context |= {"there_now": form.catch_up(FigureForm(figure=now)), "shown": FigureShown(now)}
            status = 409
    return render(request, "materials/figure.html", context, status=422 if form.errors else status)


@office_only
@require_POST
def figure_back(request: MemberRequest, pk: int) -> HttpResponse:
    """Use the value as delivered again."""
    row = get_object_or_404(Figure, pk=pk)
    form = BackForm(request.POST)
    version = form.cleaned_data["version"] if form.is_valid() else -1
    try:
        return _keep(request, row, version, row.begun_with)
    except Impossible as error:
        messages.error(request, str(error))
    except Conflict:
        messages.error(request, "Somebody changed this figure just now. Look at it again before you go back.")
    return redirect("figure", pk)
