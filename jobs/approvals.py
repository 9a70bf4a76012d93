"""From a draft to what the commissioner gets: the sheet as values, its PDF, and both frozen together."""

import datetime
from collections.abc import Iterable, Sequence

from django.utils import timezone

from jobs.documents import sign_off_document, size_words
from jobs.figures import sheet
from jobs.figures.approval import ApprovalSheet, thawed_approval
from jobs.figures.approval_texts import ASKED
from jobs.figures.sealed import ShownPhoto, digest, sealed
from jobs.figures.sheet import SheetHead, points
from jobs.models import Commission, Photo, Section, SignOff, Stage
from jobs.pictures.outlines import svg_of
from jobs.services.photos import photo_path
from jobs.services.sign_offs import SignOffRefused, lacks_to_send, send
from jobs.specs import shape_spec
from materials.estimator.errors import EstimatorError
from materials.specfile import read_shape
from studio.accounts.models import User
from studio.locking import Conflict
from studio.office.models import House
from studio.office.queries import house

DAYS_TO_ANSWER = 7


def workshop_head(row: House, *, number: str, title: str, on: datetime.date, revision: str = "") -> SheetHead:
    """The title block of a sheet that goes to the commissioner; nobody of the house is named on it."""
    workshop = sheet.Workshop(row.name, row.address, row.email, row.phone, row.registration)
    return SheetHead(workshop, number, revision, title, on, units="us" if row.units == "us" else "metric")


def approval_sheet(sign_off: SignOff, on: datetime.date) -> ApprovalSheet:
    """A draft as it would be sent on a day."""
    commission, row = sign_off.commission, house()
    stages = list(sign_off.stages.select_related("section"))
    return ApprovalSheet(
        head=workshop_head(row, number=sign_off.full_number, title=commission.title, on=on),
        kind=sign_off.get_point_display(),
        commissioner=commission.commissioner,
        asked_of=sign_off.asked_of,
        covers=tuple(str(stage) for stage in stages),
        what=points(sign_off.what),
        revision=sign_off.revision,
        dimensions=points(sign_off.dimensions),
        colour=sign_off.colour,
        costs_after=points(sign_off.costs_after),
        answer_by=sign_off.answer_by,
        photos=shown_photos(sign_off.photos.all()),
        drawing_svg=drawing_of_sections(commission, _covered(commission, stages), row.units),
    )


def shown_photos(photos: Iterable[Photo]) -> tuple[ShownPhoto, ...]:
    """Photos as a sealed sheet names them."""
    return tuple(ShownPhoto(photo.sha256, str(photo), timezone.localdate(photo.at)) for photo in photos)


def pictures_of(photos: Iterable[ShownPhoto]) -> dict[str, bytes]:
    """The photos of a sealed sheet as they are printed, by their digest."""
    return {photo.sha256: photo_path(photo.sha256, small=False).read_bytes() for photo in photos}


def drawing_of_sections(commission: Commission, sections: Sequence[Section], units: str) -> str:
    """Front and side of some sections as a sealed sheet keeps them; "" where they cannot be drawn."""
    try:
        return svg_of(sections, title=commission.title, uid="approved", views=("front", "side"), units=units)
    except EstimatorError:
        return ""


def shown_sheet(sign_off: SignOff) -> ApprovalSheet:
    """What was sent, or where nothing was sent yet, what would be today."""
    if sign_off.sent_at is not None:
        return thawed_approval(sign_off.sheet)
    return approval_sheet(sign_off, timezone.localdate())


def send_as_agreed(*, by: User, sign_off: SignOff, agreed: str, at: datetime.datetime) -> None:
    """Send the draft whose digest was agreed to; it is printed before the transaction begins, for that takes time."""
    if sign_off.sent_at is not None:
        return
    version, lacks = sign_off.version, lacks_to_send(sign_off)
    if lacks:
        raise SignOffRefused(" ".join(lacks))
    shown = approval_sheet(sign_off, timezone.localdate(at))
    if agreed != digest(sealed(shown)):
        raise Conflict
    send(by=by, sign_off=sign_off, version=version, sheet=shown, pdf=printed(shown), at=at)


def printed(shown: ApprovalSheet) -> bytes:
    """The sheet to be signed, as a PDF."""
    return sign_off_document(shown, digest=digest(sealed(shown)), pictures=pictures_of(shown.photos))


def listed(commission: Commission) -> list[tuple[SignOff, int]]:
    """The sign-offs of a commission, newest first, each with the days that its answer is late."""
    return _with_days_late(commission.sign_offs.listed())


def awaited_of(commissions: Sequence[Commission]) -> list[tuple[SignOff, int]]:
    """What is before commissioners and not answered, the soonest due first, each with the days that it is late."""
    return _with_days_late(SignOff.objects.awaited().filter(commission__in=commissions))


def reminder(sign_off: SignOff, house_name: str) -> str:
    """A few plain lines to whoever has not answered yet; the link went out before and is kept nowhere."""
    sent = f"{timezone.localdate(sign_off.sent_at):%-d %B %Y}"
    return (
        f"Dear {sign_off.asked_of},\n\non {sent} we sent you sign-off {sign_off.full_number}, "
        f"{sign_off.get_point_display().lower()}, for {sign_off.commission.title}. An answer by "
        f"{sign_off.answer_by:%-d %B %Y} keeps the programme; after that the work waits and its day may move.\n\n"
        f"The link we sent you still opens it. If you have it no longer, ask us for another, or sign the printed "
        f"sheet.\n\nWith kind regards\n{house_name}\n"
    )


def begun_with(commission: Commission, point: str, stages: Sequence[Stage], on: datetime.date) -> dict[str, object]:
    """What the form of a new sign-off is filled with."""
    asked, units = ASKED[point], house().units
    return {
        "asked_of": commission.contact or commission.commissioner,
        "what": asked.what,
        "costs_after": asked.costs_after,
        "revision": commission.model_revision,
        "dimensions": "\n".join(_sizes(_covered(commission, stages), units)),
        "colour": "" if point in ("model", "form") else commission.colour,
        "answer_by": on + datetime.timedelta(days=DAYS_TO_ANSWER),
        "stages": [stage.pk for stage in stages],
    }


def _with_days_late(rows: Iterable[SignOff]) -> list[tuple[SignOff, int]]:
    today = timezone.localdate()
    return [(row, row.days_late(today)) for row in rows]


def _covered(commission: Commission, stages: Sequence[Stage]) -> list[Section]:
    """The sections that a sign-off is about: those of its stages, or all where a stage is of the whole."""
    own = {stage.section_id for stage in stages}
    sections = list(commission.sections.all())
    return sections if not own or None in own else [section for section in sections if section.pk in own]


def _sizes(sections: Sequence[Section], units: str) -> list[str]:
    found = []
    for section in sections:
        try:
            form = read_shape(shape_spec(section), section.name).form()
        except EstimatorError:
            continue
        size = size_words((form.length_m, form.width_m, form.height_m), "us" if units == "us" else "metric")
        found.append(f"{section.name}: {size}")
    return found
