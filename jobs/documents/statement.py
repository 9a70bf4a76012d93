"""A statement of account as the commissioner and the bookkeeper receive it."""

from django.template.loader import render_to_string

from jobs.figures.statement_sheet import StatementSheet
from studio.pdf import render_pdf


def statement_document(sheet: StatementSheet) -> bytes:
    """The statement as a PDF; the same sheet gives the same bytes."""
    return render_pdf(statement_html(sheet), title=_title(sheet))


def statement_html(sheet: StatementSheet) -> str:
    """The statement as the page that is made into a PDF."""
    context = {
        "sheet": sheet,
        "head": sheet.head,
        "document_title": _title(sheet),
        "kind": "Statement",
        "statement": sheet.statement,
        "currency": sheet.statement.currency,
        "tax_name": sheet.tax_name,
    }
    return render_to_string("documents/statement.html", context)


def _title(sheet: StatementSheet) -> str:
    return f"Statement {sheet.head.number}: {sheet.head.title}"
