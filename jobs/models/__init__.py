"""The rows of a commission, by area."""

from jobs.models.commissions import Commission, CommissionState, Extra
from jobs.models.hand_overs import Fate, HandOver, PieceEvent, PieceNote
from jobs.models.hours import Clock, HourEntry
from jobs.models.issues import SentOutWork, StageIssue
from jobs.models.kept_sheets import KeptSheet
from jobs.models.labels import LabelPaper, LabelStock
from jobs.models.lifting import CommissionBase, Sling, SlingKind
from jobs.models.links import Link, LinkKind, WrongTries
from jobs.models.looks import Photo, Snag, SnagGrade
from jobs.models.meshes import CommissionModel, FileUnit, PartingPlane, PlaneKind, Up, preview_path
from jobs.models.own_rows import OwnRow
from jobs.models.packs import JobPack
from jobs.models.plans import Absence, CrewMember, Plan
from jobs.models.published import Publication
from jobs.models.quotes import BudgetLine, Decision, Quote, QuoteDecision, QuoteLine, QuotePart, QuotePayment
from jobs.models.sections import PatternMethod, Section, Shape
from jobs.models.sending import Doorway, RoadLimit, Transport
from jobs.models.sign_offs import Answer, SignOff, SignOffAnswer
from jobs.models.stages import (
    Check,
    CheckTemplate,
    HoldPoint,
    Room,
    Stage,
    StageMove,
    StageState,
    StageTemplate,
    Step,
    StepTemplate,
    Waits,
)
from jobs.models.statements import AccountEntry, Happened, Retention
from jobs.models.variations import (
    Origin,
    Variation,
    VariationAnswer,
    VariationBudget,
    VariationDecision,
    VariationItem,
    VariationLine,
    VariationPart,
)

__all__ = [
    "Absence",
    "AccountEntry",
    "Answer",
    "BudgetLine",
    "Check",
    "CheckTemplate",
    "Clock",
    "Commission",
    "CommissionBase",
    "CommissionModel",
    "CommissionState",
    "CrewMember",
    "Decision",
    "Doorway",
    "Extra",
    "Fate",
    "FileUnit",
    "HandOver",
    "Happened",
    "HoldPoint",
    "HourEntry",
    "JobPack",
    "KeptSheet",
    "LabelPaper",
    "LabelStock",
    "Link",
    "LinkKind",
    "Origin",
    "OwnRow",
    "PartingPlane",
    "PatternMethod",
    "Photo",
    "PieceEvent",
    "PieceNote",
    "Plan",
    "PlaneKind",
    "Publication",
    "Quote",
    "QuoteDecision",
    "QuoteLine",
    "QuotePart",
    "QuotePayment",
    "Retention",
    "RoadLimit",
    "Room",
    "Section",
    "SentOutWork",
    "Shape",
    "SignOff",
    "SignOffAnswer",
    "Sling",
    "SlingKind",
    "Snag",
    "SnagGrade",
    "Stage",
    "StageIssue",
    "StageMove",
    "StageState",
    "StageTemplate",
    "Step",
    "StepTemplate",
    "Transport",
    "Up",
    "Variation",
    "VariationAnswer",
    "VariationBudget",
    "VariationDecision",
    "VariationItem",
    "VariationLine",
    "VariationPart",
    "Waits",
    "WrongTries",
    "preview_path",
]
