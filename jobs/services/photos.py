"""Keeping photos of the work, and saying which of them the commissioner may see."""

from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from jobs.models import Commission, Photo, Stage
from studio.accounts.models import User
from studio.audit import record
from studio.images import Pictures
from studio.kept_files import keep


def photo_path(sha256: str, *, small: bool) -> Path:
    """Where a photo is kept: outside the web root, under its digest."""
    name = f"{sha256}-small.jpg" if small else f"{sha256}.jpg"
    return Path(settings.MEDIA_ROOT) / "photos" / sha256[:2] / name


def add_photo(*, by: User, commission: Commission, stage: Stage | None, pictures: Pictures, caption: str) -> Photo:
    """Keep a photo; the very same one sent again is the one that is there."""
    # The files come first: a row never names a file that is not whole.
    keep(photo_path(pictures.sha256, small=False), pictures.full)
    keep(photo_path(pictures.sha256, small=True), pictures.small)
    with transaction.atomic():
        photo, is_new = Photo.objects.get_or_create(
            commission=commission,
            sha256=pictures.sha256,
            defaults={
                "stage": stage,
                "width": pictures.width,
                "height": pictures.height,
                "caption": caption,
                "by": by,
            },
        )
        if is_new:
            record(actor=by, subject=commission.subject, act=f"Photo added: {photo}", after={"sha256": photo.sha256})
    return photo


@transaction.atomic
def show_to_commissioner(*, by: User, photo: Photo, shown: bool) -> None:
    """Mark whether the commissioner may see a photo."""
    if photo.for_commissioner == shown:
        return
    photo.for_commissioner = shown
    photo.shown_at = timezone.now() if shown else None
    photo.save(update_fields=["for_commissioner", "shown_at"])
    act = f"Photo {'shown to' if shown else 'kept from'} the commissioner: {photo}"
    record(actor=by, subject=photo.commission.subject, act=act)
