"""The take-off with its whole working, for the office and nobody else."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.template.loader import render_to_string

from jobs.figures.sheet import Costs, SheetHead
from jobs.takeoffs import arranged
from materials.estimator.catalogue import STEPS, entry_of
from materials.estimator.errors import UnknownChoice
from materials.estimator.lines import STAGES, HourLine, Line, TakeOff, Term
from studio.pdf import render_pdf


@dataclass(frozen=True, slots=True)
class PrintedLine:
    """A line of the take-off by its material's name, with the terms not said before."""

    name: str
    line: Line
    terms: tuple[Term, ...]

    @property
    def times(self) -> float | None:
        """What is bought over what ends in the work; None where nothing does."""
        return self.line.buy / self.line.net if self.line.net else None

    @property
    def added(self) -> float | None:
        """The share that is bought besides what ends in the work."""
        return None if self.times is None else self.times - 1


@dataclass(frozen=True, slots=True)
class PrintedStep:
    """The hours of one step by its name, with the terms not said before."""

    name: str
    hours: HourLine
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class PrintedStage:
    """What one stage of one section needs."""

    name: str
    lines: tuple[PrintedLine, ...]
    steps: tuple[PrintedStep, ...]


@dataclass(frozen=True, slots=True)
class PrintedSection:
    """One section: its name, the terms that several of its lines share, and its stages in their order."""

    name: str
    terms: tuple[Term, ...]
    stages: tuple[PrintedStage, ...]


def take_off_document(
    head: SheetHead, take_off: TakeOff, *, names: Mapping[str, str] | None = None, priced: Costs | None = None
) -> bytes:
    """The take-off as a PDF; ``names`` are the price book's, ``priced`` is the build-up of the price."""
    return render_pdf(take_off_html(head, take_off, names=names, priced=priced), title=_title(head))


def take_off_html(
    head: SheetHead, take_off: TakeOff, *, names: Mapping[str, str] | None = None, priced: Costs | None = None
) -> str:
    """The take-off as the page that is made into a PDF."""
    called = {line.material: _name(line.material, names or {}) for line in take_off.lines}
    return render_to_string("documents/take_off.html", _context(head, take_off, called, priced))


def _title(head: SheetHead) -> str:
    return f"Take-off {head.number} / {head.revision}: {head.title}"


def _context(head: SheetHead, take_off: TakeOff, called: Mapping[str, str], priced: Costs | None) -> dict[str, Any]:
    shared = sorted(_shared_terms([*take_off.lines, *take_off.hours]), key=lambda term: term.label.casefold())
    return {
        "head": head,
        "document_title": _title(head),
        "kind": "Take-off",
        "whole": arranged(take_off, called),
        "figures": take_off.sections,
        "shared": shared,
        "sections": [_section(figures.name, take_off, called, shared) for figures in take_off.sections],
        "priced": priced,
    }


def _name(material: str, names: Mapping[str, str]) -> str:
    """What people call it; a key that the catalogue has since dropped stands for itself."""
    try:
        return names.get(material) or entry_of(material).name
    except UnknownChoice:
        return material


def _section(name: str, take_off: TakeOff, called: Mapping[str, str], said: Collection[Term]) -> PrintedSection:
    lines = [line for line in take_off.lines if line.section == name]
    hours = [line for line in take_off.hours if line.section == name]
    shared = tuple(term for term in _shared_terms([*lines, *hours]) if term not in said)

    def own(worked: Line | HourLine) -> tuple[Term, ...]:
        return tuple(term for term in worked.terms if term not in said and term not in shared)

    stages = []
    for stage in STAGES:
        materials = tuple(PrintedLine(called[line.material], line, own(line)) for line in lines if line.stage == stage)
        steps = tuple(PrintedStep(STEPS[stage][step.step], step, own(step)) for step in hours if step.stage == stage)
        if materials or steps:
            stages.append(PrintedStage(stage, materials, steps))
    return PrintedSection(name, shared, tuple(stages))


def _shared_terms(worked: Sequence[Line | HourLine]) -> tuple[Term, ...]:
    """The terms of two lines or more whose name means the same in every line."""
    uses = Counter(term for line in worked for term in line.terms)
    meanings = Counter(term.label for term in uses)
    return tuple(term for term, count in uses.items() if count > 1 and meanings[term.label] == 1)
