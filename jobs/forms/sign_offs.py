"""Drafting a sign-off, answering it by its link, filing the answer that came on paper."""

import datetime
from typing import Any

from django import forms

from jobs.forms.points import PhotosField, PointsField
from jobs.models import Answer, Commission, HoldPoint, SignOff, Stage
from jobs.services.scans import NotAScan, read_scan
from jobs.services.sign_offs import TEXTS, Particulars, Signed
from studio.forms import EditForm, LinesField, OneLineField, RowsField, Ticks, choose, day_field
from studio.images import MOST_BYTES

MOST_WORDS = 2000
GIVEN = [(kind.value, kind.label) for kind in (Answer.APPROVED, Answer.WITH_COMMENTS, Answer.NOT_YET)]


class KindForm(forms.Form):
    """What is put before the commissioner next."""

    point = forms.ChoiceField(
        label="What is to be approved",
        choices=HoldPoint.choices[1:],
        error_messages=choose("Choose what is to be approved."),
    )


class SignOffForm(EditForm):
    """What one sign-off says, which stages wait for it, and its photos."""

    asked_of = OneLineField(
        label="Who is asked", max_length=120, error_messages={"required": "Enter who is asked, such as R. Osei."}
    )
    what = PointsField("What is being approved", missing="Say what is being approved.")
    revision = OneLineField(
        label="Drawing, model or sample", help_text="With its revision or number.", max_length=120, required=False
    )
    dimensions = PointsField("Dimensions")
    colour = OneLineField(
        label="Colour", help_text="With system and reference, such as RAL 6011.", max_length=200, required=False
    )
    costs_after = PointsField("What changes cost after it", missing="Say what a change costs after it is approved.")
    answer_by = day_field(
        "An answer by this day keeps the programme", missing="Enter the day by which an answer keeps the programme."
    )
    stages = RowsField(
        Stage.objects.none(),
        label="Stages that wait for it",
        required=False,
        widget=Ticks,
        error_messages={
            "invalid_choice": "Choose stages of the list.",
            "invalid_pk_value": "Choose stages of the list.",
        },
    )
    photos = PhotosField()

    def __init__(self, *args: Any, commission: Commission, point: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stages, photos = self.fields["stages"], self.fields["photos"]
        assert isinstance(stages, RowsField)
        assert isinstance(photos, PhotosField)
        stages.queryset = commission.stages.filter(sign_off=point, approval=None).select_related("section")
        photos.offer(commission)

    def offered(self) -> list[forms.BoundField]:
        """The fields that there is something to enter or choose in."""
        empty = [name for name in ("stages", "photos") if not self[name].field.queryset]  # type: ignore[attr-defined]
        return [field for field in self.visible_fields() if field.name not in empty]

    @classmethod
    def of(cls, sign_off: SignOff, data: Any = None) -> "SignOffForm":
        """The form of a draft."""
        initial = {name: getattr(sign_off, name) for name in (*TEXTS, "version")}
        lists = {"stages": list(sign_off.stages.all()), "photos": list(sign_off.photos.all())}
        return cls(data, commission=sign_off.commission, point=sign_off.point, initial=initial | lists)

    def particulars(self) -> Particulars:
        """What was entered, as the services take it."""
        texts = {name: self.cleaned_data[name] for name in TEXTS}
        return Particulars(
            **texts,
            stages=list(self.cleaned_data["stages"]),
            photos=self.cleaned_data["photos"],
        )


class AnswerForm(forms.Form):
    """An answer by the link: what, why, and who says so in which role."""

    of_sha256 = forms.CharField(max_length=64, widget=forms.HiddenInput)
    answer = forms.ChoiceField(
        label="Your answer",
        choices=GIVEN,
        widget=forms.RadioSelect,
        error_messages=choose("Choose one of the three answers."),
    )
    words = LinesField(
        label="Comments or reasons",
        help_text="Needed with comments, and with “not yet”.",
        max_length=MOST_WORDS,
        required=False,
        widget=forms.Textarea(attrs={"rows": 5}),
    )
    name = OneLineField(
        label="Your name",
        max_length=120,
        error_messages={"required": "Enter your name; it stands for your signature."},
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    role = OneLineField(
        label="Your role",
        help_text="Such as head gardener, or architect.",
        max_length=120,
        error_messages={"required": "Enter in which role you answer."},
        widget=forms.TextInput(attrs={"autocomplete": "organization-title"}),
    )

    def clean(self) -> dict[str, Any]:
        """Comments and reasons are in words."""
        cleaned = super().clean() or {}
        lacking = {Answer.WITH_COMMENTS: "Enter your comments.", Answer.NOT_YET: "Enter what has to change first."}
        said = lacking.get(cleaned.get("answer", ""))
        if said and "words" not in self.errors and not cleaned.get("words"):
            self.add_error("words", said)
        return cleaned

    def signed(self, on: datetime.date, scan: tuple[str, str] = ("", "")) -> Signed:
        """The answer, given on a day; ``scan`` is the digest and kind of the signed sheet."""
        given = self.cleaned_data
        texts = {name: given[name] for name in ("name", "role", "words", "of_sha256")}
        return Signed(Answer(given["answer"]), on=on, scan_sha256=scan[0], scan_kind=scan[1], **texts)


class PaperForm(AnswerForm):
    """The answer on a signed sheet, with its scan or photo."""

    answered_on = day_field("Signed on", missing="Enter the day on the sheet, such as 2026-01-31.")
    scan = forms.FileField(
        label="The signed sheet",
        help_text="A PDF or a photo.",
        widget=forms.FileInput(attrs={"accept": "application/pdf,image/jpeg,image/png,image/webp"}),
        error_messages={
            "required": "Choose the scan or a photo of the signed sheet.",
            "empty": "The file is empty. Scan the sheet again.",
        },
    )

    field_order = ["answer", "words", "name", "role", "answered_on", "scan", "of_sha256"]

    def __init__(self, *args: Any, today: datetime.date, sent_on: datetime.date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today, self.sent_on = today, sent_on
        self.fields["name"].label, self.fields["role"].label = "Signed by", "Role"
        self.fields["answer"].label = "The answer"

    def clean_answered_on(self) -> datetime.date:
        """Between the day it was sent and today."""
        day: datetime.date = self.cleaned_data["answered_on"]
        if not self.sent_on <= day <= self.today:
            raise forms.ValidationError("Enter the day on the sheet: not before it was sent, and not after today.")
        return day

    def clean_scan(self) -> tuple[str, bytes]:
        """The kind of the file, and what is kept of it."""
        sent = self.cleaned_data["scan"]
        if sent.size > MOST_BYTES:
            raise forms.ValidationError(f"The file has more than {MOST_BYTES // 1024**2} MB. Send a smaller one.")
        try:
            return read_scan(sent.read())
        except NotAScan as error:
            raise forms.ValidationError(str(error)) from None


class ReasonForm(forms.Form):
    """Why a sent sign-off is taken back."""

    reason = OneLineField(
        label="Why it is withdrawn",
        help_text="Such as: the wrong photo was sent.",
        max_length=300,
        error_messages={"required": "Enter why it is withdrawn; the reason stands beside it."},
    )


class ReminderForm(forms.Form):
    """To whom the reminder goes."""

    to = forms.EmailField(
        label="Send it by mail to",
        error_messages={
            "required": "Enter an address such as name@example.org.",
            "invalid": "Enter an address such as name@example.org.",
        },
    )
