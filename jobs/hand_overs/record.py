"""The hand-over record put together: what the office says, and what was really done, from the rows of the work."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db.models import Sum
from django.utils import timezone

from jobs.approvals import drawing_of_sections, pictures_of, shown_photos, workshop_head
from jobs.documents import ScopeLine, hand_over_document, scope_lines
from jobs.figures.hand_over import (
    GivenApproval,
    HandOverSheet,
    MadeSection,
    UsedBatch,
    inspection_due,
    thawed_hand_over,
)
from jobs.figures.hand_over_texts import CAUTIONS, INSPECT_MONTHS, REPAIRS
from jobs.figures.moments import day_words
from jobs.figures.scope import scope_of
from jobs.figures.sealed import digest, sealed
from jobs.figures.sheet import points
from jobs.hand_overs.drafts import texts_of
from jobs.models import (
    Answer,
    Commission,
    Fate,
    HandOver,
    PieceEvent,
    PieceNote,
    Section,
    SignOff,
    Stage,
    StageIssue,
    StageState,
    Variation,
)
from jobs.services.hand_overs import issue
from jobs.sheets.known import Job
from materials.estimator.errors import EstimatorError
from materials.estimator.spec import SectionSpec
from materials.models import PaintSystem
from studio.accounts.models import User
from studio.locking import Conflict

# What of a section's scope still matters when it stands in its place.
LASTING = ("Size", "How many", "Mould", "Cast", "Finish", "Paint", "Steel inside")

MOST_NOTES = 20
# What was used in these is not in the piece.
NOT_IN_THE_PIECE = ("pattern", "mould", "crate")


def hand_over_sheet(row: HandOver, on: datetime.date) -> HandOverSheet:
    """A draft as it would be issued on a day."""
    commission = row.commission
    job = Job(commission)
    said = {name: points(getattr(row, name)) for name in ("mass", "balance", "lifting", "fixings", "paint", "care")}
    return HandOverSheet(
        head=workshop_head(
            job.house, number=commission.number, title=commission.title, on=on, revision=str(row.number)
        ),
        commissioner=commission.commissioner,
        place=commission.place,
        handed_to=row.handed_to,
        handed_on=row.handed_on,
        sections=tuple(_made(job.sections, _facts(job), commission)),
        batches=tuple(_batches(commission)),
        approvals=tuple(_approvals(commission)),
        changes=tuple(_changes(commission)),
        **said,
        inspect_months=row.inspect_months,
        repairs=points(row.repairs),
        cautions=points(row.cautions),
        photos=shown_photos(row.photos.all()),
        drawing_svg=drawing_of_sections(commission, job.sections, job.units),
    )


def shown_record(row: HandOver) -> HandOverSheet:
    """What was issued, or where nothing was issued yet, what would be today."""
    return thawed_hand_over(row.sheet) if row.issued_at is not None else hand_over_sheet(row, timezone.localdate())


def issue_as_agreed(*, by: User, row: HandOver, agreed: str, closes: bool, at: datetime.datetime) -> None:
    """Issue the record whose digest was agreed to; it is printed before the transaction, for that takes time."""
    if row.issued_at is not None:
        return
    version, shown = row.version, hand_over_sheet(row, timezone.localdate(at))
    if agreed != digest(sealed(shown)):
        raise Conflict
    issue(by=by, row=row, version=version, sheet=shown, pdf=printed_record(shown), closes=closes, at=at)


def printed_record(shown: HandOverSheet) -> bytes:
    """The record as a PDF."""
    return hand_over_document(shown, digest=digest(sealed(shown)), pictures=pictures_of(shown.photos))


def begun_record(commission: Commission, on: datetime.date) -> dict[str, object]:
    """What the form of a new record is filled with: the version before, or what is known."""
    last = commission.hand_overs.issued().first()
    if last is not None:
        names = ("handed_to", "handed_on", "mass", "balance", "lifting", "fixings", "paint", "care")
        return {name: getattr(last, name) for name in (*names, "inspect_months", "repairs", "cautions")}
    job = Job(commission)
    facts = _facts(job)
    colours = [f"Colours: {commission.colour}"] if commission.colour else []
    return {
        "handed_to": commission.contact or commission.commissioner,
        "handed_on": on,
        **texts_of(job),
        "paint": "\n".join([*colours, *_said_of(facts, "Paint")]),
        "care": job.house.care,
        "inspect_months": INSPECT_MONTHS,
        "repairs": REPAIRS,
        "cautions": CAUTIONS,
    }


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece as its own page shows it: the record that stands, and what happened since, newest first."""

    row: HandOver
    shown: HandOverSheet
    events: list[PieceEvent]
    stands: str
    inspect_by: datetime.date


def piece_of(commission: Commission) -> Piece | None:
    """The piece, if a record of it was issued."""
    row = commission.hand_overs.issued().first()
    if row is None:
        return None
    shown, events = shown_record(row), list(commission.piece_events.all())
    moved = next((event.place for event in events if event.kind == Fate.MOVED), "")
    inspected = [event.on for event in events if event.kind == Fate.INSPECTED]
    return Piece(
        row=row,
        shown=shown,
        events=events,
        stands=moved or shown.place,
        inspect_by=inspection_due(shown.handed_on, inspected, shown.inspect_months),
    )


def unread_notes() -> list[PieceNote]:
    """What was told about pieces and is not settled, the oldest first."""
    return list(PieceNote.objects.filter(settled_at=None).select_related("commission")[:MOST_NOTES])


def _facts(job: Job) -> dict[str, list[ScopeLine]]:
    """What is said of each section as it was agreed, by its name; nothing where its measures cannot be worked."""
    descriptions = dict(PaintSystem.objects.values_list("name", "description"))
    try:
        rows = list(zip(job.sections, job.spec.sections, job.take_off.sections, strict=True))
    except EstimatorError:
        return {}
    return {
        section.name: scope_lines(
            scope_of(spec, found, paint_system=_paint(section, spec, descriptions, job.figures.system_by_grade)),
            units=job.units,
        )
        for section, spec, found in rows
    }


def _paint(section: Section, spec: SectionSpec, descriptions: Mapping[str, str], by_grade: Mapping[str, str]) -> str:
    system = section.paint_system
    name = system.name if system else by_grade.get(spec.grade, "")
    return descriptions.get(name) or name


def _said_of(facts: Mapping[str, Sequence[ScopeLine]], topic: str) -> list[str]:
    return [f"{name}: {line.sentence}" for name, lines in facts.items() for line in lines if line.topic == topic]


def _made(
    sections: Sequence[Section], facts: Mapping[str, Sequence[ScopeLine]], commission: Commission
) -> list[MadeSection]:
    """The sections, and last what was done on the whole."""
    passed: dict[int | None, list[tuple[str, datetime.date]]] = {}
    for stage in commission.stages.filter(state=StageState.PASSED).order_by("position"):
        if stage.passed_at is not None:
            passed.setdefault(stage.section_id, []).append((stage.name, timezone.localdate(stage.passed_at)))
    made = [
        MadeSection(
            section.name,
            tuple((line.topic, line.sentence) for line in facts.get(section.name, ()) if line.topic in LASTING),
            tuple(passed.get(section.pk, ())),
        )
        for section in sections
    ]
    return [*made, *([MadeSection("The whole", (), tuple(passed[None]))] if None in passed else [])]


def _batches(commission: Commission) -> list[UsedBatch]:
    """What is in the piece, by material and batch; what was returned in full is not."""
    found = (
        StageIssue.objects.filter(stage__commission=commission)
        .exclude(stage__key__in=NOT_IN_THE_PIECE)
        .exclude(movement__lot__batch="")
        .values_list("movement__lot__item__name", "movement__lot__batch", "stage", "cast")
        .annotate(moved=Sum("movement__quantity"))
        .filter(moved__lt=0)
        .order_by(
            "movement__lot__item__name", "movement__lot__batch", "stage__section__position", "stage__position", "cast"
        )
    )
    stages = {stage.pk: stage for stage in Stage.objects.filter(commission=commission).select_related("section")}
    used: dict[tuple[str, str], list[str]] = {}
    for item, batch, stage, cast, _ in found:
        used.setdefault((item, batch), []).append(stages[stage].named(cast))
    return [UsedBatch(item, batch, tuple(where)) for (item, batch), where in used.items()]


def _approvals(commission: Commission) -> list[GivenApproval]:
    rows = SignOff.objects.listed().filter(commission=commission).order_by("number")
    found = []
    for row in rows:
        given = row.given
        if given is not None and given.approves:
            by = f"{given.name}, {given.role}" if given.role else given.name
            answer = Answer(given.answer).label
            found.append(
                GivenApproval(row.full_number, row.get_point_display(), answer, by, given.answered_on, given.of_sha256)
            )
    return found


def _changes(commission: Commission) -> list[str]:
    agreed = Variation.objects.light().filter(commission=commission).accepted()
    return [f"{row.number}: {row.title}, agreed {_agreed_on(row)}" for row in agreed]


def _agreed_on(row: Variation) -> str:
    on = timezone.localdate(row.answer.at)
    return f"{day_words(on)} {on.year}"
