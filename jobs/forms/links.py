"""What the Commissioner sheet asks: for whom a link is, and which days are published."""

from typing import Any

from django import forms

from jobs.models import Publication
from studio.forms import EditForm, LinesField, OneLineField, day_field
from studio.post import can_send


class LinkForm(forms.Form):
    """For whom and until when; where the studio has a mail server, also to which address the text goes."""

    receiver = OneLineField(
        label="For whom",
        help_text="One person or office: each gets a link of their own, which can be ended alone.",
        max_length=120,
        error_messages={"required": "Enter who the link is for, such as R. Osei."},
    )
    expires_on = day_field("Last day on which it opens", missing="Enter the last day on which the link opens.")
    send_to = forms.EmailField(
        label="Send it by mail to",
        help_text="Leave it empty to copy the text and send it yourself.",
        required=False,
        error_messages={"invalid": "Enter an address such as name@example.org, or leave it empty."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not can_send():
            del self.fields["send_to"]

    def made_of(self) -> dict[str, Any]:
        """What the link is made of."""
        return {name: value for name, value in self.cleaned_data.items() if name != "send_to"}

    @property
    def address(self) -> str:
        """Where the text is to go; empty where it is copied by hand."""
        return str(self.cleaned_data.get("send_to") or "")


class ProgressLinkForm(LinkForm):
    """As every link, and whether the quote may be downloaded."""

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
