"""Named reads of labels: the sheets they come on, and the stage that a label opens."""

from jobs.delivery.label_codes import CAST, CRATE, PIECE, Labelled
from jobs.delivery.label_sheets import LabelSheet
from jobs.delivery.papers import paper_of
from jobs.models import LabelStock, Section, Stage, StageState

# The stages that a thing goes through, by its kind; a cast goes through whatever its section does.
STAGES_OF = {CAST: (), PIECE: ("mould", "cast"), CRATE: ("crate",)}


def sheet_of(row: LabelStock) -> LabelSheet:
    """A row of label sheets as its measures."""
    return LabelSheet(
        paper_of(row.paper),
        row.columns,
        row.rows,
        row.width_mm,
        row.height_mm,
        row.left_mm,
        row.top_mm,
        row.across_mm,
        row.down_mm,
    )


def stage_now(section: Section, labelled: Labelled) -> Stage | None:
    """The first stage of the labelled thing that has not passed, or its last one; None where it has none yet."""
    stages = list(section.stages.order_by("position"))
    wanted = STAGES_OF[labelled.kind]
    own = [stage for stage in stages if stage.key in wanted] or stages
    open_now = (stage for stage in own if stage.state != StageState.PASSED)
    return next(open_now, own[-1] if own else None)
