"""What the Commissioner sheet asks: for whom a link is, and which days are published."""

from django import forms

from jobs.models import Publication
from studio.forms import EditForm, LinesField, OneLineField, day_field


class ProgressLinkForm(forms.Form):
    """For whom, until when, and whether the quote may be downloaded."""

    receiver = OneLineField(
        label="For whom",
        help_text="One person or office: each gets a link of their own, which can be ended alone.",
        max_length=120,
        error_messages={"required": "Enter who the link is for, such as R. Osei."},
    )
    expires_on = day_field("Last day on which it opens", missing="Enter the last day on which the link opens.")
    shows_documents = forms.BooleanField(
        label="The quote that stands may be downloaded through it, with its price", required=False
    )


class PublishForm(EditForm):
    """The days and words that the commissioner reads; the version is the number of what stands now."""

    promised_on = day_field("Promised day", "Leave it empty, and none is shown.")
    expected_on = day_field("Expected day", "What you think now. Leave it empty, and none is shown.")
    note = LinesField(
        label="A few words",
        help_text="Such as: rain holds back the installation, the rest goes on.",
        max_length=600,
        required=False,
    )

    @classmethod
    def after(cls, last: Publication | None) -> "PublishForm":
        """The form opened on what stands."""
        names = ("promised_on", "expected_on", "note")
        return cls(initial={"version": last.number if last else 0, **{name: getattr(last, name, "") for name in names}})
