"""A variation as people write it: in words, section by section, and line by line; and the answer to it."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.figures.varied import ALL, AS_DRAWN, OMITTED, Change
from jobs.forms.extras import ItemChoice, items_to_choose
from jobs.models import Commission, Origin, Section, SignOff, Snag, Stage, Variation, VariationDecision
from jobs.services.variation_pricing import Asked
from jobs.services.variations import WORDS
from jobs.specs import section_spec
from materials.models import LayUp, LayUpUse, PaintSystem
from studio.forms import EditForm, LinesField, NumberField, OneLineField, choose
from studio.rows import RowsForm

EVERY_SECTION = "every"
PULLS = "pulls"


class SignedDaysField(OneLineField):
    """Whole days, with a minus where the day comes earlier; nothing typed takes what is worked out."""

    TOLD = "Enter whole days from -999 to 999, or leave it blank to take what is worked out."

    def clean(self, value: Any) -> int | None:
        """The days."""
        typed = str(super().clean(value)).replace("−", "-").removeprefix("+")
        if not typed:
            return None
        bare = typed.removeprefix("-")
        if not (bare.isascii() and bare.isdecimal() and len(bare) < 4):
            raise ValidationError(self.TOLD)
        return int(typed)


class WordsForm(EditForm):
    """What is asked for, by whom, and how long the answer may take."""

    origin = forms.ChoiceField(label="Raised from", choices=Origin.choices)
    asked_by = OneLineField(
        label="Who asked, and how",
        help_text="As the document says it: R. Osei, on the telephone on 3 March.",
        required=False,
        max_length=160,
    )
    snag = forms.ModelChoiceField(
        queryset=Snag.objects.none(),
        label="The snag it was raised from",
        required=False,
        empty_label="No snag",
        error_messages=choose("Choose one of the snags in the list, or none."),
    )
    sign_off = forms.ModelChoiceField(
        queryset=SignOff.objects.none(),
        label="The sign-off it was raised from",
        required=False,
        empty_label="No sign-off",
        error_messages=choose("Choose one of the sign-offs in the list, or none."),
    )
    title = OneLineField(
        label="What it is called",
        max_length=120,
        error_messages={"required": "Enter a short name, such as The base in gallery gloss."},
    )
    scope = LinesField(
        label="What changes",
        help_text="One point to a line, in the commissioner's words.",
        max_length=6000,
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={"required": "Enter what changes, so that nobody can read it two ways."},
    )
    days = SignedDaysField(
        label="Days that the day moves",
        help_text="With a minus where it comes earlier. Blank takes what hours and holds come to.",
        required=False,
    )
    valid_days = NumberField(
        label="Days that it is valid", wanted="the days, from 1 to 365", low="1", high="365", decimals=0
    )

    def __init__(
        self,
        data: Any = None,
        *,
        commission: Commission,
        variation: Variation | None = None,
        begins: Mapping[str, Any] | None = None,
    ) -> None:
        kept = {name: getattr(variation, name) for name in WORDS} if variation else {"valid_days": 14}
        super().__init__(data, initial={**kept, **(begins or {}), "version": variation.version if variation else 0})
        answered = commission.sign_offs.listed().filter(answer__isnull=False)
        self.fields["snag"].queryset = commission.snags.select_related("section")  # type: ignore[attr-defined]
        self.fields["sign_off"].queryset = answered  # type: ignore[attr-defined]

    def clean_valid_days(self) -> int:
        """A whole number."""
        return int(self.cleaned_data["valid_days"])

    def clean(self) -> dict[str, Any]:
        """What is raised from a snag or a sign-off names it."""
        cleaned = super().clean() or {}
        for name, told in (("snag", "snag"), ("sign_off", "sign-off")):
            if cleaned.get("origin") != name:
                cleaned[name] = None
            elif cleaned.get(name) is None and name not in self.errors:
                self.add_error(name, f"Choose the {told} that it was raised from.")
        return cleaned


class SectionsForm(RowsForm):
    """Changes to sections, one to a row."""

    row_name = "change"
    most = 40

    def __init__(self, *args: Any, asked: Asked, drawn: Sequence[Section], **kwargs: Any) -> None:
        self.asked, self.drawn = asked, {section.name: section for section in drawn}
        self.agreed = [section["name"] for section in asked.spec["sections"]]
        self.becomes = _becomes()
        rows = [_row(change) for change in asked.changes]
        super().__init__(*args, initial={"version": asked.variation.version}, rows=rows, **kwargs)

    def row_fields(self) -> dict[str, forms.Field]:
        """Which section, what it becomes, and how many casts where that is what changes."""
        new = [name for name in self.drawn if name not in self.agreed]
        sections = [("", "Choose a section"), (EVERY_SECTION, "All sections"), *((name, name) for name in self.agreed)]
        sections += [(name, f"{name}, not agreed yet") for name in new]
        return {
            "section": forms.ChoiceField(
                label="Section", choices=sections, error_messages=choose("Choose one of the sections in the list.")
            ),
            "becomes": forms.ChoiceField(
                label="Becomes", choices=self.becomes, error_messages=choose("Choose what becomes other.")
            ),
            "casts": NumberField(
                label="Casts", wanted="a whole number from 1 to 500", low="1", high="500", decimals=0, required=False
            ),
        }

    def clean(self) -> dict[str, Any]:
        """Read the rows as changes."""
        cleaned = super().clean()
        if not self.errors:
            self.changes = tuple(self._change(row) for row in self.rows)
        return cleaned

    def _change(self, row: Mapping[str, Any]) -> Change:
        name = ALL if row["section"] == EVERY_SECTION else row["section"]
        what, _, value = row["becomes"].partition(":")
        if what == AS_DRAWN:
            if name not in self.drawn:
                raise ValidationError("What is taken from the Form sheet is one section; choose which.")
            return Change(name, what, section_spec(self.drawn[name]))
        if name and name not in self.agreed:
            raise ValidationError(f"{name} is not agreed yet; it can only be added, as the Form sheet has it.")
        if what == OMITTED:
            return Change(name, what, None)
        if what == PULLS:
            if row["casts"] is None:
                raise ValidationError("Enter how many casts are taken from the mould.")
            return Change(name, what, int(row["casts"]))
        return Change(name, what, value)


def _becomes() -> list[Any]:
    lay_ups = list(LayUp.objects.all())

    def named(what: str, rows: Sequence[Any], usual: str) -> list[tuple[str, str]]:
        return [(f"{what}:", usual), *((f"{what}:{row.name}", row.name) for row in rows)]

    casts = [row for row in lay_ups if row.use == LayUpUse.CAST]
    moulds = [row for row in lay_ups if row.use == LayUpUse.MOULD]
    return [
        ("", "Choose what becomes other"),
        ("Finish grade", [(f"grade:{key}", label) for key, label in Section.GRADES]),
        ("Paint system", named("paint_system", list(PaintSystem.objects.all()), "The usual for its grade")),
        ("Cast lay-up", named("cast_lay_up", casts, "The studio's usual cast lay-up")),
        ("Mould lay-up", named("mould_lay_up", moulds, "The studio's usual mould lay-up")),
        (
            "The section itself",
            [
                (PULLS, "As many casts as the next field says"),
                (AS_DRAWN, "As the Form sheet has it now"),
                (OMITTED, "Left out"),
            ],
        ),
    ]


def _row(change: Change) -> dict[str, Any]:
    valued = change.what not in (AS_DRAWN, OMITTED, PULLS)
    return {
        "section": change.section or EVERY_SECTION,
        "becomes": f"{change.what}:{change.value}" if valued else change.what,
        "casts": change.value if change.what == PULLS else None,
    }


class ItemsForm(RowsForm):
    """What the take-off does not know, added or left out, one to a row."""

    row_name = "line"
    most = 30
    DOES = [("adds", "Adds"), ("omits", "Leaves out")]

    def __init__(self, *args: Any, variation: Variation, stages: Sequence[Stage], **kwargs: Any) -> None:
        self.stages = {stage.code: stage for stage in stages}
        rows = [
            {
                "label": item.label,
                "does": "omits" if item.is_omission else "adds",
                "item": item.item,
                "quantity": item.quantity,
                "stage": item.stage.code if item.stage else "",
            }
            for item in variation.items.select_related("item", "stage")
        ]
        super().__init__(*args, initial={"version": variation.version}, rows=rows, **kwargs)

    def row_fields(self) -> dict[str, forms.Field]:
        """What it is, which way it goes, what the price book calls it, how much, and where the work is."""
        nowhere = ("", "No one stage")
        stages = [nowhere, *((code, str(stage)) for code, stage in self.stages.items())]
        return {
            "label": OneLineField(
                label="What",
                max_length=120,
                error_messages={"required": "Enter what it is, in the commissioner's words."},
            ),
            "does": forms.ChoiceField(label="Does", choices=self.DOES, initial="adds"),
            "item": ItemChoice(
                items_to_choose(),
                label="From the price book",
                empty_label="Choose what it is",
                error_messages=choose("Choose something from the list; if it is not there, add it to the price book."),
            ),
            "quantity": NumberField(
                label="How much", wanted="how much, such as 1.5", low="0.01", high="99999999", decimals=2
            ),
            "stage": forms.ChoiceField(label="Stage", choices=stages, required=False),
        }

    def items(self) -> list[dict[str, Any]]:
        """The lines as they are kept."""
        return [
            {
                "label": row["label"],
                "is_omission": row["does"] == "omits",
                "item": row["item"],
                "quantity": row["quantity"],
                "stage": self.stages.get(row["stage"]),
            }
            for row in self.rows
        ]


class AgainForm(EditForm):
    """Which of the stages that are done are done again."""

    stages = forms.MultipleChoiceField(
        label="Done again",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "Choose from the stages that are listed."},
    )

    def __init__(self, *args: Any, offered: Sequence[Stage], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["stages"].choices = [(stage.code, str(stage)) for stage in offered]  # type: ignore[attr-defined]


class HolderAnswerForm(forms.Form):
    """The answer of whoever holds the link, to the document that was read."""

    DECISIONS = [
        (VariationDecision.ACCEPTED.value, "We accept this change, its price and its day"),
        (VariationDecision.DECLINED.value, "We decline it; the work goes on as agreed"),
    ]

    read = forms.CharField(
        widget=forms.HiddenInput, error_messages={"required": "This page lost its place; load it again."}
    )
    decision = forms.ChoiceField(
        label="Your answer",
        choices=DECISIONS,
        widget=forms.RadioSelect,
        error_messages=choose("Choose whether it is accepted or declined."),
    )
    said_by = OneLineField(label="Your name", max_length=120, error_messages={"required": "Enter your name."})
    role = OneLineField(
        label="Your role",
        help_text="In whose name you answer, such as clerk to the parish.",
        max_length=120,
        error_messages={"required": "Enter your role, such as clerk to the parish."},
    )
    note = LinesField(label="A note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3}))


class OfficeAnswerForm(HolderAnswerForm):
    """The answer as it reached the office on paper or by word, or that the studio takes it back."""

    decision = forms.ChoiceField(
        label="How it ended",
        choices=VariationDecision.choices,
        widget=forms.RadioSelect,
        error_messages=choose("Choose how it ended from what is listed."),
    )
    said_by = OneLineField(
        label="Who said so", max_length=120, error_messages={"required": "Enter who said so, and for whom."}
    )
    role = OneLineField(label="Role", required=False, max_length=120)

    def __init__(self, data: Any = None, *, variation: Variation) -> None:
        super().__init__(data, initial={"read": variation.pdf_sha256})
        if variation.issued_at is None:
            # A draft has no document, and nobody outside can have answered it.
            self.fields["read"].required = False
            self.fields["decision"].choices = [  # type: ignore[attr-defined]
                (VariationDecision.WITHDRAWN.value, VariationDecision.WITHDRAWN.label)
            ]
