"""The whole job: its sections, and what it says itself of catalyst and allowances."""

from pathlib import Path

from materials.estimator.errors import Missing, OutOfRange
from materials.estimator.mix import check_catalyst_percent
from materials.estimator.spec import Allowances, JobSpec
from materials.estimator.studio import StudioFigures
from materials.specfile.fields import Fields, standing_at
from materials.specfile.sections import read_sections

MOST_SECTIONS = 2000


def read_spec(data: object, *, defaults: StudioFigures, folder: Path | None = None) -> JobSpec:
    """Read a job from named values, as JSON gives them.

    Parameters
    ----------
    data : object
        The specification; lengths, weights and films are texts with a unit.
    defaults : StudioFigures
        What is used where the specification says nothing.
    folder : Path, optional
        Where the files of models are looked for; without it a section may name none.

    Returns
    -------
    JobSpec

    Raises
    ------
    EstimatorError
        For a field that is not known, a value of another kind, or what cannot be made; the
        sentence says where it stands.
    """
    fields = Fields(data, "", ("name", "catalyst_percent", "allowances", "sections"))
    name = fields.text("name", "Take-off")
    catalyst_percent = fields.number("catalyst_percent", defaults.value("catalyst_percent"))
    with standing_at(fields.place("catalyst_percent")):
        check_catalyst_percent(catalyst_percent)
    listed = fields.listing("sections", "list at least one section.")
    if not listed:
        raise Missing("sections", "list at least one section.")
    if len(listed) > MOST_SECTIONS:
        raise OutOfRange("Number of sections", len(listed), "", high=MOST_SECTIONS, hint="Divide the job.")
    sections = tuple(
        section
        for number, each in enumerate(listed, start=1)
        for section in read_sections(each, number, defaults, folder)
    )
    return JobSpec(
        name=name,
        sections=sections,
        allowances=_allowances(fields, defaults),
        catalyst_percent=catalyst_percent,
        coefficients=defaults.coefficients,
        norms=defaults.norms,
    )


def _allowances(fields: Fields, defaults: StudioFigures) -> Allowances:
    given, usual = fields.inner("allowances", ("gel_coat", "glass", "overlap", "resin")), defaults.allowances
    # An allowance for glass given alone is the whole of it, overlap included.
    overlap = 0.0 if given.has("glass") else usual.overlap
    shares = {
        "gel_coat": given.number("gel_coat", usual.gel_coat),
        "glass": given.number("glass", usual.glass),
        "overlap": given.number("overlap", overlap),
        "resin": given.number("resin", usual.resin),
    }
    with standing_at("allowances"):
        return Allowances(**shares)
