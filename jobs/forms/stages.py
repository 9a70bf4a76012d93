"""Moving a stage on, and changing its steps, holds and checks."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from jobs.models import Commission, HoldPoint, Room, Section, Stage, StageTemplate, Step, StepTemplate, Waits
from studio.forms import CheckedField, LinesField, NumberField, choose
from studio.rows import RowsForm

MOST_CHECKS, LONGEST_CHECK = 20, 160
BARRIER, RESIN = "barrier", "resin"
LOST = "This page lost its place; load it again."


class MoveForm(forms.Form):
    """What is to happen to the stage; a reason where it goes back to work."""

    ACTS = [(act, act) for act in ("begin", "ready", "pass", "reopen")]

    act = forms.ChoiceField(choices=ACTS, widget=forms.HiddenInput, error_messages=choose(LOST))
    reason = forms.CharField(
        label="Why it is reopened",
        help_text="Such as: the return cracked when it was taken off.",
        max_length=300,
        required=False,
    )

    def clean(self) -> dict[str, Any]:
        """A stage is reopened for a reason."""
        cleaned = super().clean() or {}
        if cleaned.get("act") == "reopen" and "reason" not in self.errors and not cleaned.get("reason"):
            self.add_error("reason", "Enter why it is reopened; the reason stands on the board.")
        return cleaned


class StepForm(forms.Form):
    """Done or not, and how warm the workshop is where something cures."""

    DEGREES = [(str(degree), f"{degree} °C") for degree in range(36)]

    done = forms.ChoiceField(
        choices=[("1", "done"), ("0", "not done")], widget=forms.HiddenInput, error_messages=choose(LOST)
    )
    temperature = forms.ChoiceField(
        label="Workshop", choices=DEGREES, required=False, error_messages=choose("Choose how warm the workshop is.")
    )


class CheckForm(forms.Form):
    """Looked at or not."""

    seen = forms.ChoiceField(
        choices=[("1", "seen"), ("0", "not seen")], widget=forms.HiddenInput, error_messages=choose(LOST)
    )


class AddStageForm(forms.Form):
    """Which stage, and on what."""

    template = forms.ModelChoiceField(
        label="Stage",
        queryset=StageTemplate.objects.all(),
        empty_label="choose a stage",
        error_messages=choose("Choose the stage to add."),
    )
    section = forms.ModelChoiceField(
        label="Of",
        queryset=Section.objects.none(),
        required=False,
        empty_label="the whole commission",
        error_messages=choose("Choose a section, or the whole commission."),
    )

    def __init__(self, data: Any = None, *, commission: Commission) -> None:
        super().__init__(data)
        field = self.fields["section"]
        assert isinstance(field, forms.ModelChoiceField)
        field.queryset = commission.sections.all()


class StepsForm(RowsForm):
    """A stage with its steps as rows and its checks as lines."""

    row_name = "step"
    most = 16
    row_names: tuple[str, ...] = ("name", "hold_hours", "hold_reason", "slower_when_cold", "in_booth")

    name = forms.CharField(
        label="Name", max_length=40, error_messages={"required": "Enter what the stage is called, such as Mould."}
    )
    waits = forms.ChoiceField(
        label="Beginning", choices=Waits.choices, required=False, error_messages=choose("Choose when it may begin.")
    )
    sign_off = forms.ChoiceField(
        label="Hold point",
        choices=HoldPoint.choices,
        required=False,
        error_messages=choose("Choose what the commissioner signs, or no sign-off."),
    )
    weight = NumberField(
        label="Share of the work",
        help_text="From 0 to 100, beside the other stages.",
        wanted="a whole number from 0 to 100",
        high="100",
        decimals=0,
    )
    checks = LinesField(
        label="Looked at before it passes",
        help_text="One check to a line.",
        required=False,
        max_length=MOST_CHECKS * (LONGEST_CHECK + 2),
    )

    def __init__(self, data: Any, *, row: Stage | StageTemplate | None, initial: Mapping[str, Any]) -> None:
        begun_with = dict(initial)
        if row is not None:
            names = ("name", "waits", "sign_off", "weight", "version")
            begun_with |= {name: getattr(row, name) for name in names}
            begun_with["checks"] = "\n".join(check.text for check in row.checks.all())
        super().__init__(data, rows=[self.row_of(step) for step in row.steps.all()] if row else (), initial=begun_with)

    def row_of(self, step: Step | StepTemplate) -> dict[str, Any]:
        """A step as the row that it was opened with."""
        foam = BARRIER if step.is_barrier else RESIN if step.needs_barrier else ""
        return {"pk": step.pk, "foam": foam, **{name: getattr(step, name) for name in self.row_names}}

    def row_fields(self) -> dict[str, forms.Field]:
        """One step with the hold that follows it."""
        return {
            "name": forms.CharField(label="Step", max_length=80),
            "hold_hours": NumberField(
                label="Hold, h at 20 °C", wanted="hours such as 16 or 0.5", high="2000", decimals=1, required=False
            ),
            "hold_reason": forms.CharField(label="Hold for", max_length=80, required=False),
            "slower_when_cold": forms.BooleanField(label="Longer in the cold", required=False),
            "in_booth": forms.BooleanField(label="In the booth", required=False),
            "foam": forms.ChoiceField(
                label="Foam",
                choices=[("", "no matter"), (BARRIER, "closes it"), (RESIN, "resin on it")],
                required=False,
                error_messages=choose("Choose what the step does to foam."),
            ),
        }

    def clean_checks(self) -> str:
        """No check longer than a line on a phone, none twice."""
        lines = [line.strip() for line in self.cleaned_data["checks"].split("\n") if line.strip()]
        long = next((line for line in lines if len(line) > LONGEST_CHECK), None)
        if long:
            raise forms.ValidationError(f"“{long[:40]}…” is longer than {LONGEST_CHECK} letters; part it in two lines.")
        if len(lines) > MOST_CHECKS:
            raise forms.ValidationError(f"These are {len(lines)} checks; keep the {MOST_CHECKS} that matter.")
        return "\n".join(dict.fromkeys(lines))

    def check_lines(self) -> list[str]:
        """The checks in their order."""
        text = str(self.cleaned_data["checks"])
        return text.split("\n") if text else []

    def _row(self, number: int) -> dict[str, Any] | None:
        row = super()._row(number)
        if row is not None and number < len(self.given):
            row["pk"] = self.given[number]["pk"]
        return row

    def steps(self) -> list[dict[str, Any]]:
        """The steps in their order, as the services take them; ``pk`` where a row was there before."""
        return [self._step(row) for row in self.rows]

    def _step(self, row: Mapping[str, Any]) -> dict[str, Any]:
        kept = {name: row[name] for name in self.row_names} | {"hold_hours": row["hold_hours"] or Decimal(0)}
        return {**kept, "is_barrier": row["foam"] == BARRIER, "needs_barrier": row["foam"] == RESIN}

    def particulars(self) -> dict[str, Any]:
        """What concerns the whole stage."""
        return {name: self.cleaned_data[name] for name in ("name", "waits", "sign_off")} | {
            "weight": int(self.cleaned_data["weight"])
        }


class StageForm(StepsForm):
    """One commission's own stage."""

    allowed_hours = NumberField(label="Hours allowed", wanted="the hours allowed, such as 16", high="20000", decimals=2)
    field_order = ["name", "allowed_hours", "waits", "sign_off", "weight", "checks"]

    def __init__(self, data: Any = None, *, row: Stage) -> None:
        allowed = round(Decimal(row.allowed_minutes) / 60, 2)
        super().__init__(data, row=row, initial={"allowed_hours": allowed})
        self.allowed_minutes = row.allowed_minutes

    def particulars(self) -> dict[str, Any]:
        """What concerns the whole stage; hours left as they were shown keep their minutes."""
        typed = round(self.cleaned_data["allowed_hours"] * 60)
        return super().particulars() | {
            "allowed_minutes": typed if "allowed_hours" in self.changed_data else self.allowed_minutes
        }

    def _step(self, row: Mapping[str, Any]) -> dict[str, Any]:
        return {**super()._step(row), "pk": row.get("pk")}


class StageTemplateForm(StepsForm):
    """One of the studio's own stages."""

    row_names = (*StepsForm.row_names, "hold_evidence")

    position = NumberField(
        label="Place in the order", wanted="a whole number from 1 to 990", low="1", high="990", decimals=0
    )
    crew = NumberField(
        label="People at once", wanted="how many people, from 1 to 12, such as 2", low="1", high="12", decimals=0
    )
    room = forms.ChoiceField(
        label="Worked", choices=Room.choices, required=False, error_messages=choose("Choose where it is worked.")
    )
    for_whole = forms.BooleanField(label="Once for the whole commission", required=False)
    optional = forms.BooleanField(label="Only where the quote has hours for it", required=False)
    checked_on = CheckedField()
    field_order = [
        *("name", "position", "waits", "sign_off", "weight", "crew", "room", "for_whole", "optional", "checked_on"),
        "checks",
    ]

    def __init__(self, data: Any = None, *, row: StageTemplate | None = None, place: int = 10) -> None:
        own = ("position", "crew", "room", "for_whole", "optional")
        known = {name: getattr(row, name) for name in own} if row else {}
        super().__init__(data, row=row, initial={"position": place, "weight": 0, "crew": 1, **known})

    def row_fields(self) -> dict[str, forms.Field]:
        """One step, and where its hold comes from."""
        source = forms.CharField(label="Hold comes from", max_length=120, required=False)
        return {**super().row_fields(), "hold_evidence": source}

    def particulars(self) -> dict[str, Any]:
        """What concerns the whole stage."""
        own = {name: self.cleaned_data[name] for name in ("room", "for_whole", "optional", "checked_on")}
        numbers = {name: int(self.cleaned_data[name]) for name in ("position", "crew")}
        return super().particulars() | own | numbers
