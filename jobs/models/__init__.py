"""The rows of a commission, by area."""

from jobs.models.commissions import Commission, CommissionState, Extra
from jobs.models.quotes import BudgetLine, Decision, Quote, QuoteDecision, QuoteLine, QuotePart, QuotePayment
from jobs.models.sections import PatternMethod, Section, Shape

__all__ = [
    "BudgetLine",
    "Commission",
    "CommissionState",
    "Decision",
    "Extra",
    "PatternMethod",
    "Quote",
    "QuoteDecision",
    "QuoteLine",
    "QuotePart",
    "QuotePayment",
    "Section",
    "Shape",
]
