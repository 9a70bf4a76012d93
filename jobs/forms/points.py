"""Fields that two forms of what goes out share: points one to a line, and photos that may be shown."""

from typing import Any

from django import forms

from jobs.models import Commission, Photo
from studio.forms import LinesField, RowsField, Ticks

MOST_PHOTOS = 8
# A piece of thirty sections has a point for each, and one for the whole.
LONGEST = 20_000


class PointsField(LinesField):
    """Points, one to a line; ``missing`` is what is said where one is needed and none was entered."""

    def __init__(self, label: str, *, missing: str = "", rows: int = 5) -> None:
        super().__init__(
            label=label,
            help_text="One point to a line.",
            max_length=LONGEST,
            required=bool(missing),
            widget=forms.Textarea(attrs={"rows": rows}),
            error_messages={"required": missing},
        )


class PhotosField(RowsField):
    """Photos of a commission that its commissioner may see; ``offer`` says of which."""

    def __init__(self) -> None:
        told = "Choose photos of the list."
        super().__init__(
            Photo.objects.none(),
            label="Photos that go with it",
            required=False,
            widget=Ticks,
            error_messages={"invalid_choice": told, "invalid_pk_value": told},
        )

    def clean(self, value: Any) -> Any:
        """The photos, no more than a sheet shows well."""
        chosen = list(super().clean(value))
        if len(chosen) > MOST_PHOTOS:
            raise forms.ValidationError(f"These are {len(chosen)} photos; choose the {MOST_PHOTOS} that show it best.")
        return chosen

    def offer(self, commission: Commission) -> None:
        """The photos there are."""
        self.queryset = commission.photos.filter(for_commissioner=True)
