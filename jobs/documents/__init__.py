"""Printed documents: values go in, the bytes of a PDF come out."""

from jobs.documents.codes import code_svg
from jobs.documents.hand_over import hand_over_document
from jobs.documents.quote import quote_document
from jobs.documents.sign_off import sign_off_document
from jobs.documents.statement import statement_document
from jobs.documents.take_off import take_off_document
from jobs.documents.variation import variation_document
from jobs.documents.wording import ScopeLine, scope_lines, size_words

__all__ = [
    "ScopeLine",
    "code_svg",
    "hand_over_document",
    "quote_document",
    "scope_lines",
    "sign_off_document",
    "size_words",
    "statement_document",
    "take_off_document",
    "variation_document",
]
