"""Every kind of sheet, in the order of the work."""

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.models import Section
from jobs.sheets import air, boards, crate, fixings, foam, handling, layup, lifting, mix, panel, wind
from jobs.sheets.kind import SheetKind
from jobs.sheets.known import Job, Subject
from materials.estimator.lines import STAGES

KINDS: tuple[SheetKind, ...] = (
    foam.KIND,
    mix.KIND,
    layup.KIND,
    air.KIND,
    panel.KIND,
    handling.KIND,
    lifting.MOULD,
    lifting.KIND,
    lifting.WHOLE,
    fixings.KIND,
    crate.KIND,
    boards.KIND,
    wind.KIND,
)  # fmt: skip
BY_KEY = {kind.key: kind for kind in KINDS}
AT_STAGES = {stage for kind in KINDS for stage in kind.stages}


@dataclass(frozen=True, slots=True)
class Offered:
    """One sheet that can be printed, and the query that asks for it."""

    kind: SheetKind
    subject: Subject

    @property
    def query(self) -> str:
        """What comes after the question mark of its address."""
        return query_of(self.subject.section, self.subject.stage)


@dataclass(frozen=True, slots=True)
class Group:
    """The sheets of one stage of one section, of a section at any stage, or of the whole."""

    section: Section | None
    stage: str
    sheets: tuple[Offered, ...]

    @property
    def query(self) -> str:
        """What comes after the question mark of the pack's address."""
        return query_of(self.section, self.stage)


def query_of(section: Section | None, stage: str) -> str:
    """A section and a stage as an address names them."""
    parts = ([f"section={section.pk}"] if section else []) + ([f"stage={stage}"] if stage else [])
    return "&".join(parts)


def offered(job: Job, section: int | None = None, stage: str = "") -> list[Offered]:
    """Everything that can be printed of a commission, of one section, or of one of its stages."""
    return [Offered(kind, subject) for kind in KINDS for subject in kind.subjects(job, section, stage)]


def groups(job: Job) -> list[Group]:
    """Everything that can be printed: of the whole first, then section by section and stage by stage."""
    return [Group(section, stage, tuple(sheets)) for section, stage, sheets in _grouped(job) if sheets]


def _grouped(job: Job) -> Iterator[tuple[Section | None, str, list[Offered]]]:
    every = offered(job)
    yield None, "", [each for each in every if each.subject.section is None]
    for section in job.sections:
        own = [each for each in every if each.subject.section == section]
        for stage in ("", *STAGES):
            yield section, stage, [each for each in own if each.subject.stage == stage]
