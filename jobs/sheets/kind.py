"""What a kind of sheet says of itself, and what its answer holds."""

import base64
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

from django import forms
from django.utils.safestring import SafeString

from jobs.sheets.known import Job, Subject
from materials.estimator.errors import EstimatorError
from materials.estimator.reckoned import Reckoned
from studio.forms import choose
from studio.quantities import QuantityField

SUBJECT = ("section", "stage")


class About(Enum):
    """What a sheet is about."""

    COMMISSION = "commission"
    SECTION = "section"
    STAGE = "stage"


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, and what it shows in words for those who do not see it."""

    svg: SafeString
    words: str

    @property
    def address(self) -> str:
        """The drawing as an address that holds it, so that in a document it carries its words."""
        return f"data:image/svg+xml;base64,{base64.b64encode(self.svg.encode()).decode()}"


@dataclass(frozen=True, slots=True)
class TrueSize:
    """Drawings that are pages of their own in print, on paper of the size that the key names."""

    paper: str
    pages: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a sheet says.

    ``headline`` is the one sentence to act on, ``stop`` whether it tells to stop; ``big`` are the numbers to act on,
    printed so that they are read at arm's length; ``workings`` are the other figures of the sheet; ``value`` is what
    the kind's own fragment prints; ``true_size`` follows everything else in print.
    """

    value: Any
    big: tuple[Reckoned, ...] = ()
    workings: tuple[Reckoned, ...] = ()
    cautions: tuple[str, ...] = ()
    headline: str = ""
    stop: bool = False
    true_size: TrueSize | None = None

    @property
    def all_workings(self) -> tuple[Reckoned, ...]:
        """Every figure with its working, the large ones first."""
        return (*self.big, *self.workings)


class SheetForm(forms.Form):
    """What a sheet is asked with. A field that is not asked, or left blank, begins with what is known."""

    def __init__(self, asked: Mapping[str, str], kind: "SheetKind", job: Job) -> None:
        super().__init__(auto_id="id_%s", use_required_attribute=False)
        self.refused, self.asked = "", asked
        self.subject = self._take_subject(asked, kind, job)
        begun: Mapping[str, Any] = {}
        try:
            begun = self.begins_with(self.subject)
        except EstimatorError as error:
            self.refused = str(error)
        section, stage = self.subject.section, self.subject.stage
        data = {"section": str(section.pk) if section else "", "stage": stage}
        data |= {name: self.fields[name].prepare_value(value) for name, value in begun.items()}
        self.kept = self._kept(kind, job)
        data |= self.kept
        data |= {name: asked[name] for name in self.fields if asked.get(name)}
        # Where nothing can be begun with, the one sentence says why, and no field is found wanting besides.
        self.data, self.is_bound = data, not self.refused

    def begins_with(self, subject: Subject) -> Mapping[str, Any]:
        """The value of each field where nothing is asked; here a kind may also fill in what can be chosen."""
        return {}

    def offer(self, name: str, choices: Sequence[tuple[str, str]]) -> None:
        """Give a field what may be chosen."""
        self.fields[name].choices = choices  # type: ignore[attr-defined]

    def choosing(self) -> list[forms.BoundField]:
        """The fields that choose what the sheet is about, where there is a choice."""
        return [self[name] for name in SUBJECT if name in self.fields]

    def asking(self) -> list[forms.BoundField]:
        """The kind's own fields."""
        return [field for field in self.visible_fields() if field.name not in SUBJECT]

    def said(self) -> list[tuple[str, str]]:
        """What the sheet was worked with, by label, for print."""
        rows = []
        for field in self.asking():
            value = str(field.value() or "")
            choices = {str(key): str(label) for key, label in getattr(field.field, "choices", ())}
            if value:
                rows.append((str(field.label), choices.get(value, value)))
        return rows

    def address(self) -> dict[str, str]:
        """What an address needs so that it asks the same again."""
        return {name: str(value) for name in self.fields if (value := self.data.get(name)) not in (None, "")}

    def answers(self) -> dict[str, str]:
        """What the kind's own fields were answered with, as it was typed."""
        return {name: value for name, value in self.address().items() if name not in SUBJECT}

    def _kept(self, kind: "SheetKind", job: Job) -> dict[str, str]:
        """Of what was kept, what this sheet asks."""
        section = self.subject.section
        found = job.kept.get((section.pk if section else None, kind.keeps), {}) if kind.keeps else {}
        return {name: value for name, value in found.items() if name in self.fields}

    def _take_subject(self, asked: Mapping[str, str], kind: "SheetKind", job: Job) -> Subject:
        own, self.fields = self.fields, {}
        for field in own.values():
            if isinstance(field, QuantityField):
                field.system = job.units
        section, stage = None, ""
        if kind.about is not About.COMMISSION and job.sections:
            names = {str(each.pk): each for each in job.sections}
            section = names.get(asked.get("section", ""), job.sections[0])
            self.fields["section"] = _chosen("Section", [(pk, each.name) for pk, each in names.items()])
        if kind.about is About.STAGE:
            stage = asked["stage"] if asked.get("stage") in kind.stages else kind.stages[0]
        if stage and len(kind.stages) > 1:
            self.fields["stage"] = _chosen("Stage", [(key, key.capitalize()) for key in kind.stages])
        self.fields.update(own)
        return Subject(job, section, stage)


def _chosen(label: str, choices: list[tuple[str, str]]) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=choices, error_messages=choose(f"Choose a {label.lower()}."))


def _always(subject: Subject) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class SheetKind:
    """One kind of sheet.

    ``key`` is its address and the name of its fragment ``sheets/_<key>.html``; ``says`` is its line in the list;
    ``stages`` are the keys of the stages on whose pages it is offered; ``build`` works the answer and lets an
    ``EstimatorError`` pass; ``cautions`` stand on every sheet of this kind, and ``judgement`` says whose judgement it
    does not replace; ``offered`` says whether there is anything to print for a subject; ``keeps`` names what is decided
    on it once for all, "" for what is asked afresh each time; ``has_more`` says whether a second fragment,
    ``sheets/_<key>-more.html``, follows the cautions; ``fragment`` stands for the key where kinds print alike.
    """

    key: str
    title: str
    says: str
    about: About
    stages: tuple[str, ...]
    build: Callable[[Subject, Mapping[str, Any]], Answer]
    cautions: tuple[str, ...]
    judgement: str
    form: type[SheetForm] = SheetForm
    offered: Callable[[Subject], bool] = _always
    keeps: str = ""
    has_more: bool = False
    fragment: str = ""

    @property
    def more(self) -> str:
        """The fragment of what comes after the cautions: what nobody has to read before the work."""
        return f"sheets/_{self.fragment or self.key}-more.html"

    @property
    def template(self) -> str:
        """The fragment that prints what is its own."""
        return f"sheets/_{self.fragment or self.key}.html"

    def subjects(self, job: Job, section: int | None = None, stage: str = "") -> list[Subject]:
        """Everything in a commission that such a sheet is printed for, or of one section, or of one of its stages."""
        if stage and stage not in self.stages:
            return []
        if self.about is About.COMMISSION:
            found = [] if section else [Subject(job)]
        else:
            sections = [each for each in job.sections if section in (None, each.pk)]
            stages = self.stages if self.about is About.STAGE else ("",)
            found = [Subject(job, each, key) for each in sections for key in stages if key in ("", stage) or not stage]
        return [subject for subject in found if self._is_offered(subject)]

    def _is_offered(self, subject: Subject) -> bool:
        try:
            return self.offered(subject)
        except EstimatorError:
            # The sheet itself says what is wrong.
            return True


@dataclass(frozen=True, slots=True)
class Shown:
    """A sheet as it is shown: its answer, or the sentence that says why there is none."""

    kind: SheetKind
    form: SheetForm
    answer: Answer | None
    refused: str = ""

    @property
    def subject(self) -> Subject:
        """What it is about."""
        return self.form.subject


def show(kind: SheetKind, job: Job, asked: Mapping[str, str]) -> Shown:
    """Work a sheet with what was asked; what the arithmetic refuses is said in its own words."""
    form = kind.form(asked, kind, job)
    if form.refused or not form.is_valid():
        return Shown(kind, form, None, form.refused)
    if kind.about is not About.COMMISSION and form.subject.section is None:
        return Shown(kind, form, None, "There is no section yet: describe the first on the Form sheet.")
    try:
        return Shown(kind, form, kind.build(form.subject, form.cleaned_data))
    except EstimatorError as error:
        return Shown(kind, form, None, str(error))


def show_subject(kind: SheetKind, subject: Subject) -> Shown:
    """A sheet with everything as it begins, for a pack."""
    asked = {"section": str(subject.section.pk) if subject.section else "", "stage": subject.stage}
    return show(kind, subject.job, asked)
