"""The quote as the commissioner receives it."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.template.loader import render_to_string

from jobs.documents.pictures import drawn
from jobs.documents.wording import ScopeLine, counted, scope_lines
from jobs.figures.sheet import QuoteSheet
from studio.pdf import render_pdf


@dataclass(frozen=True, slots=True)
class PrintedPart:
    """A section's name and what is said of it, or what is said of them all."""

    name: str
    lines: list[ScopeLine]


def quote_document(sheet: QuoteSheet) -> bytes:
    """The quote as a PDF; the same sheet gives the same bytes."""
    return render_pdf(quote_html(sheet), title=_title(sheet))


def quote_html(sheet: QuoteSheet) -> str:
    """The quote as the page that is made into a PDF."""
    return render_to_string("documents/quote.html", _context(sheet))


def _title(sheet: QuoteSheet) -> str:
    return f"Quote {sheet.head.number} / {sheet.head.revision}: {sheet.head.title}"


def _context(sheet: QuoteSheet) -> dict[str, Any]:
    shared, parts = _parts(sheet)
    return {
        "sheet": sheet,
        "head": sheet.head,
        "document_title": _title(sheet),
        "kind": "Quote",
        "price": sheet.price,
        "shared": PrintedPart("All sections", shared) if shared else None,
        "parts": parts,
        "counted": counted(len(parts), "section", "sections"),
        **drawn(sheet.drawing_svg, sheet.head.title),
    }


def _parts(sheet: QuoteSheet) -> tuple[list[ScopeLine], list[PrintedPart]]:
    """What is said of most sections, once, and then what each section says besides or instead."""
    said = [scope_lines(scope, units=sheet.head.units) for scope in sheet.sections]
    shared = _shared(said)
    own = [
        PrintedPart(scope.name, [line for line in lines if line not in shared])
        for scope, lines in zip(sheet.sections, said, strict=True)
    ]
    return shared, own


def _shared(said: Sequence[Sequence[ScopeLine]]) -> list[ScopeLine]:
    """The lines that more than half of several sections have; of topics on which every section says something."""
    if len(said) < 2:
        return []
    shared = []
    for topic in [line.topic for line in said[0]]:
        same = [line for lines in said for line in lines if line.topic == topic]
        line, count = Counter(same).most_common(1)[0]
        if len(same) == len(said) and count > len(said) / 2:
            shared.append(line)
    return shared
