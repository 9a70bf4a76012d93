"""What pages of sign-offs and of hand-over records share: drafts as they would go out, and what went out."""

from typing import Any

from django.utils.safestring import SafeString

from jobs.figures.approval import ApprovalSheet
from jobs.figures.hand_over import HandOverSheet
from jobs.figures.sealed import digest, sealed
from jobs.models import Commission, HandOver, SignOff

Sheet = HandOverSheet | ApprovalSheet


def of_commissioner(commission: Commission | None) -> dict[str, Any]:
    """Where such a page stands."""
    return {"place": "commissions", "commission": commission, "sheet": "commissioner"}


def own_page(row: HandOver | SignOff, shown: Sheet, *, is_draft: bool) -> dict[str, Any]:
    """The sheet in the house; a draft with the digest that whoever freezes it agrees to."""
    keys = {photo.sha256: photo.pk for photo in row.photos.all()}
    photos = [(photo, keys[photo.sha256]) for photo in shown.photos]
    agreed = digest(sealed(shown)) if is_draft else ""
    return of_commissioner(row.commission) | _drawn(shown) | {"row": row, "photos": photos, "agreed": agreed}


def held_page(path: str, shown: Sheet, pdf: str) -> dict[str, Any]:
    """The sheet below the address of a link, with where its photos and its PDF are."""
    photos = [(photo, f"{path}photos/{number}.jpg") for number, photo in enumerate(shown.photos, start=1)]
    return _drawn(shown) | {"photos": photos, "pdf": f"{path}{pdf}"}


def _drawn(shown: Sheet) -> dict[str, Any]:
    """The drawing was made by ``materials.drawing`` alone, which escapes every word in it."""
    return {"shown": shown, "drawing": SafeString(shown.drawing_svg)}
