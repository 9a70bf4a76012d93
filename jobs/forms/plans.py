"""Asking for a plan, and what may be supposed of it."""

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from jobs.figures.moments import day_words
from jobs.models import Commission
from jobs.services.planning.suppositions import (
    FIRST,
    HIRE,
    MOVE_DATE,
    ORDER,
    PAINT_OUT,
    SATURDAYS,
    SECOND_MOULD,
    SPLIT,
    TAKE_ON,
    Supposition,
)
from studio.forms import NumberField, choose, day_field

DAYS_MOVED = {"day": "is needed by", "site_from": "goes to its site from", "site_until": "goes to its site until"}
SECONDS = [("10", "10 seconds"), ("30", "30 seconds"), ("60", "a minute")]


class AskForm(forms.Form):
    """How long a better plan is looked for."""

    seconds = forms.ChoiceField(
        label="Look for a better one for", choices=SECONDS, error_messages=choose("Choose how long to look.")
    )


def _weeks(label: str) -> NumberField:
    return NumberField(label=label, wanted="the weeks, from 1 to 26, such as 3", low="1", high="26", decimals=0)


class SupposeForm(forms.Form):
    """One thing that may be supposed; a subclass says which, and of what."""

    kind = ""
    heading = ""
    about = ""

    def __init__(self, data: Any = None, *, commissions: Sequence[Commission], today: datetime.date) -> None:
        super().__init__(data, prefix=self.kind.replace(" ", "_"), initial={"day": today.isoformat(), "weeks": "3"})
        self.commissions = {str(row.pk): row for row in commissions}
        if "commission" in self.fields:
            offered = [(key, str(row)) for key, row in self.commissions.items()]
            self.fields["commission"].choices = offered  # type: ignore[attr-defined]

    @property
    def offers(self) -> bool:
        """Whether there is anything to choose from."""
        return "commission" not in self.fields or bool(self.commissions)

    def supposition(self) -> Supposition:
        """What was entered."""
        data: Mapping[str, Any] = self.cleaned_data
        weeks, people, day = (data.get(name) for name in ("weeks", "people", "day"))
        return Supposition(
            kind=self.kind,
            words=self.words(),
            commission=str(data.get("commission", "")),
            day=day.isoformat() if day else "",
            weeks=int(weeks or 0),
            people=int(people or 0),
        )

    def words(self) -> str:
        """How a page says it."""
        raise NotImplementedError

    def _title(self) -> str:
        return self.commissions[self.cleaned_data["commission"]].title

    def _weeks(self) -> str:
        weeks, day = int(self.cleaned_data["weeks"]), day_words(self.cleaned_data["day"])
        return f"{weeks} week{'' if weeks == 1 else 's'} from {day}"


def _commission(label: str = "Which commission") -> forms.ChoiceField:
    return forms.ChoiceField(label=label, error_messages=choose("Choose a commission from the list."))


class PaintOutForm(SupposeForm):
    """A paint shop does what is still to be sprayed."""

    kind, heading = PAINT_OUT, "Send the painting out"
    about = "A paint shop does everything that is still to be sprayed; the booth and its hours are free meanwhile."
    commission = _commission()

    def words(self) -> str:
        """How a page says it."""
        return f"send the painting of {self._title()} out"


class HireForm(SupposeForm):
    """Somebody more for some weeks."""

    kind, heading = HIRE, "Hire"
    about = "People who can work at any stage. Count on a few days until they know the workshop."
    people = NumberField(
        label="How many people", wanted="how many, from 1 to 6", low="1", high="6", decimals=0, initial="1"
    )
    day = day_field("From", missing="Enter the day from which it counts, such as 2026-01-31.")
    weeks = _weeks("For how many weeks")

    def words(self) -> str:
        """How a page says it."""
        people = int(self.cleaned_data["people"])
        return f"hire {'one person' if people == 1 else f'{people} people'} for {self._weeks()}"


class SaturdaysForm(SupposeForm):
    """Saturdays as whole working days."""

    kind, heading = SATURDAYS, "Work Saturdays"
    about = (
        "Everybody who is not away works the whole Saturday. Mind the hours that the law and people's contracts allow."
    )
    day = day_field("From", missing="Enter the day from which it counts, such as 2026-01-31.")
    weeks = _weeks("For how many weeks")

    def words(self) -> str:
        """How a page says it."""
        return f"work Saturdays for {self._weeks()}"


class SectionForm(SupposeForm):
    """Something about the casts of one section."""

    done = ""
    section = forms.ChoiceField(label="Of which section", error_messages=choose("Choose a section from the list."))

    def __init__(self, data: Any = None, *, sections: Sequence[tuple[str, str, str]], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.sections = {f"{commission}/{section}": label for commission, section, label in sections}
        self.fields["section"].choices = list(self.sections.items())  # type: ignore[attr-defined]

    @property
    def offers(self) -> bool:
        """Whether any section has several casts to come."""
        return bool(self.sections)

    def supposition(self) -> Supposition:
        """What was entered."""
        commission, section = str(self.cleaned_data["section"]).split("/", 1)
        return Supposition(self.kind, self.words(), commission=commission, section=section)

    def words(self) -> str:
        """How a page says it."""
        return self.done.format(self.sections[self.cleaned_data["section"]])


class SplitForm(SectionForm):
    """The pieces of a mould each by itself, so that pulls overlap."""

    kind, heading = SPLIT, "Split a mould"
    about = (
        "Each piece of the mould is laid up, cured and emptied by itself, and the next pull begins in it while the "
        "others still cure. The hours stay the same; the pieces of a cast are joined when all are out."
    )
    done = "use the mould of {} piece by piece"


class SecondMouldForm(SectionForm):
    """One more mould, so that pulls overlap."""

    kind, heading = SECOND_MOULD, "Make one more mould"
    about = (
        "Where casts queue on a mould, one more lets the next be laid up while the last cures. It takes the hours, "
        "holds and material of the first anew, once that is off the pattern; the pattern has to be there, and sound."
    )
    done = "make one more mould of {}"


class FirstForm(SupposeForm):
    """One commission before all others."""

    kind, heading = FIRST, "Put one first"
    about = "The others give way wherever hands or places are short."
    commission = _commission()

    def words(self) -> str:
        """How a page says it."""
        return f"put {self._title()} before all others"


class OrderForm(SupposeForm):
    """One stage before another that would not wait for it."""

    kind, heading = ORDER, "Change the order of work"
    about = "One stage begins only when another is worked through, of the same commission or not."
    earlier = forms.ChoiceField(label="First", error_messages=choose("Choose the stage that comes first."))
    later = forms.ChoiceField(label="Then", error_messages=choose("Choose the stage that comes after it."))

    def __init__(self, data: Any = None, *, stages: Sequence[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.stages = dict(stages)
        for name in ("earlier", "later"):
            self.fields[name].choices = list(stages)  # type: ignore[attr-defined]

    @property
    def offers(self) -> bool:
        """Whether there are two stages to choose from."""
        return len(self.stages) > 1

    def clean(self) -> dict[str, Any]:
        """A stage does not wait for itself."""
        cleaned = super().clean() or {}
        if cleaned.get("later") and cleaned.get("later") == cleaned.get("earlier"):
            self.add_error("later", "Choose another stage than the one that comes first.")
        return cleaned

    def supposition(self) -> Supposition:
        """What was entered."""
        earlier, later = self.cleaned_data["earlier"], self.cleaned_data["later"]
        return Supposition(self.kind, self.words(), earlier=earlier, later=later)

    def words(self) -> str:
        """How a page says it."""
        earlier, later = (self.stages[self.cleaned_data[name]] for name in ("earlier", "later"))
        return f"do {earlier} before {later}"


class MoveDateForm(SupposeForm):
    """Other days for one commission."""

    kind, heading = MOVE_DATE, "Move a date"
    about = "What is gained where a commissioner agrees to another day, or a site takes the work on others."
    commission = _commission()
    day = day_field("Needed by", "What you leave empty stays as it is.")
    site_from = day_field("The site takes it from")
    site_until = day_field("The site takes it until")

    def __init__(self, data: Any = None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        # A day that nobody typed would move with it.
        self.initial = {}

    def clean(self) -> dict[str, Any]:
        """One day at least, and those of the site in their order."""
        cleaned = super().clean() or {}
        first, last = cleaned.get("site_from"), cleaned.get("site_until")
        if not self.errors and not any(cleaned.get(name) for name in DAYS_MOVED):
            self.add_error("day", "Enter at least one day that is to be another.")
        if first and last and last < first:
            self.add_error("site_until", f"That is before the first day, {day_words(first)}; give a later one.")
        return cleaned

    def supposition(self) -> Supposition:
        """What was entered."""
        days = {name: day.isoformat() for name in DAYS_MOVED if (day := self.cleaned_data[name])}
        return Supposition(self.kind, self.words(), commission=self.cleaned_data["commission"], **days)

    def words(self) -> str:
        """How a page says it."""
        moved = [f"{said} {day_words(day)}" for name, said in DAYS_MOVED.items() if (day := self.cleaned_data[name])]
        return f"{self._title()} {', '.join(moved)}"


class TakeOnForm(SupposeForm):
    """An enquiry, as if its quote were accepted today."""

    kind, heading = TAKE_ON, "Take on an enquiry"
    about = "As if its quote were accepted today, with the hours of its take-off."
    commission = _commission("Which enquiry")

    def words(self) -> str:
        """How a page says it."""
        return f"take on {self._title()}"
