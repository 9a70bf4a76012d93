"""The labels of a commission: one on each cast, mould piece and crate."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from jobs.delivery.label_codes import CAST, CRATE, PIECE, Labelled
from jobs.models import Section
from jobs.mould_pieces import piece_masses
from jobs.sheets.crate import KIND as CRATE_SHEET
from jobs.sheets.crate import cast_mass
from jobs.sheets.kind import show_subject
from jobs.sheets.known import Job, Subject
from materials.units import format_quantity


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says, and the address its code opens."""

    code: str
    address: str
    number: str
    title: str
    section: str
    what: str
    mass: str


def labels_of(
    job: Job, sections: Collection[Section], kinds: Collection[str], address_of: Callable[[str], str]
) -> list[Label]:
    """The labels of these sections, of these kinds; ``address_of`` gives what a code opens.

    Raises EstimatorError where the take-off cannot be worked.
    """
    return [
        Label(
            labelled.code,
            address_of(labelled.code),
            job.commission.number,
            job.commission.title,
            section.name,
            what,
            mass,
        )
        for section in job.sections
        if section in sections
        for labelled, what, mass in _things(Subject(job, section), section.pk)
        if labelled.kind in kinds
    ]


def _things(subject: Subject, section: int) -> Iterator[tuple[Labelled, str, str]]:
    """Everything of a section that carries a label: what it is called, and about how much it weighs."""
    figures = subject.measures
    casts = [(number, _of(number, figures.casts)) for number in range(1, figures.casts + 1)]
    cast = _about(cast_mass(subject).value, subject.job)
    for number, counted in casts:
        yield Labelled(section, CAST, number), f"Cast {counted}", cast
    pieces = [_about(mass.value, subject.job) for mass in piece_masses(subject)]
    for mould in range(1, figures.moulds + 1):
        of_mould = f"Mould {_of(mould, figures.moulds)}, " if figures.moulds > 1 else "Mould "
        for piece in range(1, figures.mould.pieces + 1):
            yield (
                Labelled(section, PIECE, mould, piece),
                f"{of_mould}piece {_of(piece, figures.mould.pieces)}",
                pieces[piece - 1],
            )
    if subject.spec.crated:
        gross = _gross(subject, cast)
        for number, counted in casts:
            yield Labelled(section, CRATE, number), f"Crate of cast {counted}", gross


def _about(mass_kg: float, job: Job) -> str:
    return f"about {format_quantity(mass_kg, 'mass', job.units)}"


def _gross(subject: Subject, cast: str) -> str:
    """The crate as its sheet begins with it; where that cannot be built, what it holds."""
    sheet = show_subject(CRATE_SHEET, subject)
    if sheet.answer is None:
        return f"holds {cast}"
    return f"gross {_about(sheet.answer.value.crate.gross.value, subject.job)}"


def _of(number: int, count: int) -> str:
    """One of several, to stay on one line."""
    return f"{number} of {count}".replace(" ", "\N{NO-BREAK SPACE}")
