"""Sending a photo, and writing down a snag."""

from typing import Any

from django import forms

from jobs.models import SnagGrade, Stage
from studio.forms import OneLineField
from studio.images import MOST_BYTES, NotAPhoto, Pictures, made_again

# Where on the front of the drawing, in words, for whoever does not point: the middle of each ninth.
PLACES = {
    f"{down} {across}".strip(): (x, y)
    for down, y in (("top", 1 / 6), ("middle", 1 / 2), ("foot", 5 / 6))
    for across, x in (("left", 1 / 6), ("", 1 / 2), ("right", 5 / 6))
}
MINUTES = [(minutes, f"{minutes // 60} h {minutes % 60:02d}" if minutes else "not known") for minutes in
           (0, 15, 30, 60, 120, 240, 480)]  # fmt: skip


class PhotoForm(forms.Form):
    """One photo, of which stage, with a few words."""

    photo = forms.FileField(
        label="Photo",
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp", "capture": "environment"}),
        error_messages={"required": "Take or choose a photo.", "empty": "The file is empty. Take the photo again."},
    )
    stage = forms.ModelChoiceField(Stage.objects.none(), required=False, empty_label="The whole commission")
    caption = OneLineField(label="What it shows", max_length=160, required=False)

    def __init__(self, stages: Any, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["stage"].queryset = stages  # type: ignore[attr-defined]

    def clean_photo(self) -> Pictures:
        """The photo made again."""
        sent = self.cleaned_data["photo"]
        if sent.size > MOST_BYTES:
            raise forms.ValidationError(f"The photo has more than {MOST_BYTES // 1024**2} MB. Send a smaller one.")
        try:
            return made_again(sent.read())
        except NotAPhoto as error:
            raise forms.ValidationError(str(error)) from None


class SnagForm(forms.Form):
    """What was found, how bad, and where."""

    what = OneLineField(label="What is wrong", max_length=300, error_messages={"required": "Say what is wrong."})
    grade = forms.ChoiceField(choices=SnagGrade.choices, initial=SnagGrade.PLAIN, label="How bad")
    minutes = forms.TypedChoiceField(choices=MINUTES, coerce=int, initial=0, label="Time to put right")
    place = forms.ChoiceField(
        choices=[("", "not marked"), *((place, place) for place in PLACES)],
        required=False,
        label="Where on the drawing",
    )
