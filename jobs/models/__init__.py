"""The rows of a commission, by area."""

from jobs.models.commissions import Commission, CommissionState, Extra
from jobs.models.hours import Clock, HourEntry
from jobs.models.issues import SentOutWork, StageIssue
from jobs.models.labels import LabelPaper, LabelStock
from jobs.models.links import Link, LinkKind, WrongTries
from jobs.models.looks import Photo, Snag, SnagGrade
from jobs.models.meshes import CommissionModel, FileUnit, PartingPlane, PlaneKind, Up, preview_path
from jobs.models.published import Publication
from jobs.models.quotes import BudgetLine, Decision, Quote, QuoteDecision, QuoteLine, QuotePart, QuotePayment
from jobs.models.sections import PatternMethod, Section, Shape
from jobs.models.stages import (
    Check,
    CheckTemplate,
    SignOff,
    Stage,
    StageMove,
    StageState,
    StageTemplate,
    Step,
    StepTemplate,
    Waits,
)

__all__ = [
    "BudgetLine",
    "Check",
    "CheckTemplate",
    "Clock",
    "Commission",
    "CommissionModel",
    "CommissionState",
    "Decision",
    "Extra",
    "FileUnit",
    "HourEntry",
    "LabelPaper",
    "LabelStock",
    "Link",
    "LinkKind",
    "PartingPlane",
    "PatternMethod",
    "Photo",
    "PlaneKind",
    "Publication",
    "Quote",
    "QuoteDecision",
    "QuoteLine",
    "QuotePart",
    "QuotePayment",
    "Section",
    "SentOutWork",
    "Shape",
    "SignOff",
    "Snag",
    "SnagGrade",
    "Stage",
    "StageIssue",
    "StageMove",
    "StageState",
    "StageTemplate",
    "Step",
    "StepTemplate",
    "Up",
    "Waits",
    "WrongTries",
    "preview_path",
]
