"""Photos and snags of Six Acorns."""

from jobs.models import Commission, SnagGrade, Stage
from jobs.services.photos import add_photo, show_to_commissioner
from jobs.services.snags import Found, add_snag, close_snag, mend_snag
from studio.accounts.models import User
from studio.images import made_again
from studio.management.demo.pictures import nuts

# What was found, on which section, how bad, minutes to put right, where on the drawing.
SNAGS = (
    ("Nut", Found("Pinholes along the seam of the second nut", SnagGrade.PLAIN, 60, 0.24, 0.42)),
    ("Nut", Found("A run in the primer near the foot", SnagGrade.SLIGHT, 15, 0.21, 0.55)),
    ("Cup", Found("The rim is 4 mm out of round", SnagGrade.PLAIN, 120, 0.22, 0.45)),
)


def look_at_acorns(acorns: Commission, people: dict[str, User]) -> None:
    """Two photos, one of them for the commissioner, and three snags, one of them closed."""
    by_section = {section.name: section for section in acorns.sections.all()}
    stages = {(str(stage.section), stage.key): stage for stage in acorns.stages.select_related("section")}
    _photo(acorns, stages.get(("Nut", "cast")), people["ines"], "Nuts out of the mould", shown_by=people["tam"])
    _photo(acorns, stages.get(("Cup", "mould")), people["jory"], "The cracked return", shown_by=None)
    found = [add_snag(by=people["senka"], section=by_section[name], found=what) for name, what in SNAGS]
    mend_snag(by=people["ines"], snag=found[1], version=0)
    close_snag(by=people["senka"], snag=found[1], version=1)
    mend_snag(by=people["ines"], snag=found[0], version=0)


def _photo(acorns: Commission, stage: Stage | None, by: User, caption: str, *, shown_by: User | None) -> None:
    photo = add_photo(by=by, commission=acorns, stage=stage, pictures=made_again(nuts(caption)), caption=caption)
    if shown_by is not None:
        show_to_commissioner(by=shown_by, photo=photo, shown=True)
