"""The hand-over record as the office fills it in, a link for the piece, and what happens to it later."""

from typing import Any

from django import forms

from jobs.forms.links import LinkForm
from jobs.forms.points import PhotosField, PointsField
from jobs.models import Commission, Fate, HandOver
from jobs.services.hand_overs import TEXTS, Particulars
from studio.forms import EditForm, LinesField, NumberField, OneLineField, choose, day_field


class HandOverForm(EditForm):
    """What the work's own rows do not say."""

    handed_to = OneLineField(
        label="Handed over to", max_length=120, error_messages={"required": "Enter who takes the piece over."}
    )
    handed_on = day_field("Handed over on", missing="Enter the day of the hand-over, such as 2026-01-31.")
    mass = PointsField("Mass", missing="Enter the mass, as weighed or estimated.")
    balance = PointsField("Balance", rows=3)
    lifting = PointsField("Lifting points", rows=3)
    fixings = PointsField("Fixings")
    paint = PointsField("Paint system, with references")
    care = PointsField("Care")
    inspect_months = NumberField(
        label="Months between inspections",
        wanted="whole months from 1 to 120, such as 12",
        low="1",
        high="120",
        decimals=0,
    )
    repairs = PointsField("How it is repaired")
    cautions = PointsField("Cautions", missing="Enter the cautions that go with the piece.")
    photos = PhotosField()

    def __init__(self, *args: Any, commission: Commission, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        photos = self.fields["photos"]
        assert isinstance(photos, PhotosField)
        photos.offer(commission)

    @classmethod
    def of(cls, row: HandOver, data: Any = None) -> "HandOverForm":
        """The form of the draft."""
        initial = {name: getattr(row, name) for name in (*TEXTS, "version")} | {"photos": list(row.photos.all())}
        return cls(data, commission=row.commission, initial=initial)

    def particulars(self) -> Particulars:
        """What was entered, as the services take it."""
        entered = {name: self.cleaned_data[name] for name in (*TEXTS, "photos")}
        return Particulars(**{**entered, "inspect_months": int(entered["inspect_months"])})


class PieceLinkForm(LinkForm):
    """A link that may stay on the piece for good."""

    expires_on = day_field("Last day on which it opens", "Leave it empty for a label that stays on the piece.")


class EventForm(forms.Form):
    """Something that happened to the piece."""

    kind = forms.ChoiceField(
        label="What happened", choices=Fate.choices, error_messages=choose("Choose what happened.")
    )
    on = day_field("On", missing="Enter the day on which it happened.")
    place = OneLineField(
        label="Where it stands from then on", help_text="Where it was moved.", max_length=200, required=False
    )
    by_whom = OneLineField(
        label="Who did it", max_length=120, error_messages={"required": "Enter who did it, such as a firm."}
    )
    words = LinesField(
        label="What was done or found",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Say what was done or found."},
    )

    def event(self) -> dict[str, Any]:
        """What was entered, as the service takes it."""
        return {**self.cleaned_data, "kind": Fate(self.cleaned_data["kind"])}


class NoteForm(forms.Form):
    """What somebody by the piece tells the studio."""

    name = OneLineField(
        label="Your name, or whom you write for",
        max_length=120,
        error_messages={"required": "Enter your name, or whom you write for."},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    words = LinesField(
        label="What you saw or did",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={"required": "Say what you saw or did."},
    )


class SettleForm(forms.Form):
    """What becomes of a note."""

    ACTS = [("keep", "kept"), ("aside", "set aside")]

    # Two buttons send it: there is no field that a message could lead to.
    act = forms.ChoiceField(
        choices=ACTS, widget=forms.HiddenInput, error_messages=choose("Choose whether it is kept or set aside.")
    )
