"""The rows of a commission, by area."""

from jobs.models.commissions import Commission, CommissionState, Extra
from jobs.models.meshes import CommissionModel, FileUnit, PartingPlane, PlaneKind, Up, preview_path
from jobs.models.quotes import BudgetLine, Decision, Quote, QuoteDecision, QuoteLine, QuotePart, QuotePayment
from jobs.models.sections import PatternMethod, Section, Shape

__all__ = [
    "BudgetLine",
    "Commission",
    "CommissionModel",
    "CommissionState",
    "Decision",
    "Extra",
    "FileUnit",
    "PartingPlane",
    "PatternMethod",
    "PlaneKind",
    "Quote",
    "QuoteDecision",
    "QuoteLine",
    "QuotePart",
    "QuotePayment",
    "Section",
    "Shape",
    "Up",
    "preview_path",
]
