"""What was put before the commissioners: approved, refused, awaited, overdue, in draft. Invented."""

import datetime
from collections.abc import Callable

from django.utils import timezone

from jobs.approvals import approval_sheet, begun_with, printed
from jobs.models import Answer, Commission, Link, LinkKind, Photo, SignOff, Stage
from jobs.services import sign_offs as services
from jobs.services.links import make_link
from jobs.services.photos import add_photo, show_to_commissioner
from jobs.services.scans import keep_scan, read_scan
from studio.accounts.models import User
from studio.images import made_again
from studio.management.demo.days import moment
from studio.management.demo.pictures import nuts, sheet_signed

CLERK, ROLE = "Ada Penrose", "Clerk to the parish"


def approved(
    stage: Stage,
    by: User,
    *,
    sent: datetime.datetime,
    on: datetime.date,
    on_paper: bool,
    who: tuple[str, str] = (CLERK, ROLE),
    drawn: Callable[[str], bytes] = nuts,
) -> None:
    """One stage put forward and approved, by its link or on a signed sheet."""
    photo = shown(stage, by, f"{stage}, from the front", sent, drawn)
    row = _sent(stage.commission, by, sent, [stage], [photo], days=7)
    words = "The rim a little softer, as agreed by telephone" if on_paper else ""
    scan = ("", "")
    if on_paper:
        kind, data = read_scan(sheet_signed(row.full_number))
        scan = (keep_scan(kind, data), kind)
    answer = Answer.WITH_COMMENTS if on_paper else Answer.APPROVED
    signed = services.Signed(answer, *who, words, on, row.sha256, *scan)
    services.answer(by=by if on_paper else _link(row, by, sent), sign_off=row, signed=signed, at=moment(on, 0, 10))


def put_forward(acorns: Commission, lantern: Commission, by: User, on: datetime.date) -> None:
    """A sample that is overdue and one in draft; a maquette refused once and sent again."""
    finish = {str(stage.section): stage for stage in acorns.stages.filter(key="finish").select_related("section")}
    sent = moment(on, 11, 10)
    photo = shown(finish["Nut"], by, "Sample 2, brown beige, on the second nut", sent)
    overdue = _sent(acorns, by, sent, [finish["Nut"]], [photo], days=7, revision="Sample 2 of three")
    _link(overdue, by, sent)
    _draft(acorns, by, on, [finish["Cup"]], [], days=10, revision="Sample 1")
    first = _sent(lantern, by, moment(on, 20, 10), [], [], days=10, point="model")
    reasons = "The collar stands too low: the lamp has to be seen over the rail of the mole."
    refused = services.Signed(
        Answer.NOT_YET, "Odile Marsh", "Works officer", reasons, on - datetime.timedelta(days=15), first.sha256
    )
    services.answer(by=_link(first, by, moment(on, 20, 10)), sign_off=first, signed=refused, at=moment(on, 15, 10))
    again = _sent(
        lantern, by, moment(on, 2, 10), [], [], days=9, point="model", revision="Maquette 1 : 10, fourth state"
    )
    _link(again, by, moment(on, 2, 10))


def shown(stage: Stage, by: User, caption: str, at: datetime.datetime, drawn: Callable[[str], bytes] = nuts) -> Photo:
    """A photo that the commissioner may see, kept at that moment."""
    photo = add_photo(
        by=by, commission=stage.commission, stage=stage, pictures=made_again(drawn(caption)), caption=caption
    )
    show_to_commissioner(by=by, photo=photo, shown=True)
    Photo.objects.filter(pk=photo.pk).update(at=at, shown_at=at)
    photo.refresh_from_db()
    return photo


def _draft(
    commission: Commission,
    by: User,
    on: datetime.date,
    stages: list[Stage],
    photos: list[Photo],
    *,
    days: int,
    point: str = "",
    **said: str,
) -> SignOff:
    kind = point or stages[0].sign_off
    begun = begun_with(commission, kind, stages, on) | {"stages": stages, "photos": photos, **said}
    given = services.Particulars(**{**begun, "answer_by": on + datetime.timedelta(days=days)})  # type: ignore[arg-type]
    return services.draft(by=by, commission=commission, point=kind, given=given)


def _sent(
    commission: Commission,
    by: User,
    at: datetime.datetime,
    stages: list[Stage],
    photos: list[Photo],
    *,
    days: int,
    **said: str,
) -> SignOff:
    on = timezone.localdate(at)
    row = _draft(commission, by, on, stages, photos, days=days, **said)
    sheet = approval_sheet(row, on)
    services.send(by=by, sign_off=row, version=row.version, sheet=sheet, pdf=printed(sheet), at=at)
    return row


def _link(row: SignOff, by: User, at: datetime.datetime) -> Link:
    return make_link(
        by=by,
        kind=LinkKind.SIGN_OFF,
        commission=row.commission,
        sign_off=row,
        receiver=row.asked_of,
        expires_on=timezone.localdate(at) + datetime.timedelta(days=365),
        at=at,
    ).link
