"""Sign-offs drafted, sent and answered, by the services that people use; their documents are stand-ins."""

import datetime
import io
from collections.abc import Sequence
from typing import Any

from django.utils import timezone
from PIL import Image

from jobs.approvals import approval_sheet
from jobs.models import Answer, Commission, Photo, SignOff, Stage
from jobs.services import sign_offs as services
from jobs.services.photos import add_photo, show_to_commissioner
from studio.accounts.models import Role, User
from studio.images import made_again
from tests.factories import make_person

STAND_IN = b"%PDF-1.7 stand-in"
SENT = datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC)


def office() -> User:
    """Whoever is in the office; made where nobody is."""
    return User.objects.filter(role=Role.OFFICE).first() or make_person(Role.OFFICE)


def particulars(stages: Sequence[Stage] = (), photos: Sequence[Photo] = (), **values: Any) -> services.Particulars:
    """What a sign-off of the pattern's form says."""
    said = {
        "asked_of": "R. Osei",
        "what": "The form at full size\nEvery edge",
        "revision": "Drawing LP-2, revision C",
        "dimensions": "Base: 1.65 m wide",
        "colour": "RAL 6011",
        "costs_after": "The mould is made anew",
        "answer_by": datetime.date(2026, 3, 9),
    }
    return services.Particulars(**{**said, **values}, stages=stages, photos=photos)


def drafted(commission: Commission, *stages: Stage, point: str = "", **values: Any) -> SignOff:
    """A draft that covers these stages, of their hold point."""
    kind = point or (stages[0].sign_off if stages else "model")
    photos = values.pop("photos", ())
    return services.draft(by=office(), commission=commission, point=kind, given=particulars(stages, photos, **values))


def sent(commission: Commission, *stages: Stage, at: datetime.datetime = SENT, **values: Any) -> SignOff:
    """A sign-off that is before the commissioner."""
    row = drafted(commission, *stages, **values)
    sheet = approval_sheet(row, timezone.localdate(at))
    services.send(by=office(), sign_off=row, version=row.version, sheet=sheet, pdf=STAND_IN, at=at)
    return row


def signed(sign_off: SignOff, answer: Answer = Answer.APPROVED, **values: Any) -> services.Signed:
    """An answer to it, by R. Osei."""
    words = "" if answer == Answer.APPROVED else "The nose is too long"
    given = {"name": "R. Osei", "role": "Head gardener", "words": words, "on": datetime.date(2026, 3, 3)}
    return services.Signed(answer, **{**given, "of_sha256": sign_off.sha256, **values})


def approve(stage: Stage, at: datetime.datetime = SENT, name: str = "R. Osei") -> SignOff:
    """Send a sign-off of one stage and approve it."""
    row = sent(stage.commission, stage, at=at)
    assert services.answer(by=office(), sign_off=row, signed=signed(row, name=name), at=SENT) == []
    stage.refresh_from_db()
    return row


def jpeg(colour: str = "red") -> bytes:
    """A plain picture."""
    target = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(target, "JPEG")
    return target.getvalue()


def shown_photo(commission: Commission, caption: str = "The pattern from the left") -> Photo:
    """A photo that the commissioner may see; it goes where the test keeps its media."""
    pictures = made_again(jpeg())
    photo = add_photo(by=office(), commission=commission, stage=None, pictures=pictures, caption=caption)
    show_to_commissioner(by=office(), photo=photo, shown=True)
    return photo
