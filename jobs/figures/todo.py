"""What is still to be done of a commission, stage by stage, as a plan reads it."""

from dataclasses import dataclass, field, replace

from jobs.figures.site import Promise, Site
from jobs.figures.threepoint import ThreePoint
from jobs.figures.workdays import Workdays

BAY = "bay"
PASSED, BEGUN, ANY_TIME = "passed", "begun", ""
CAST, INSTALL = "cast", "install"


@dataclass(frozen=True, slots=True)
class Outside:
    """Work that a firm outside does: what it is, and how long until it is back [day]."""

    what: str
    days: float


@dataclass(frozen=True, slots=True)
class StepToDo:
    """A step that is not done.

    Attributes
    ----------
    position : int
    name : str
    hold_h : float
        The hold after it [h].
    why : str
        What the hold is for.
    in_booth : bool
    sent : Outside or None
        What a firm outside does before it, once all that stands before is done.
    """

    position: int
    name: str
    hold_h: float = 0.0
    why: str = ""
    in_booth: bool = False
    sent: Outside | None = None


@dataclass(frozen=True, slots=True)
class StageToDo:
    """A stage that has not passed.

    Attributes
    ----------
    id, key, name : str
    section : str
        "" for the whole commission.
    position : int
        Its place in the order of stages.
    waits : str
        ``PASSED``, ``BEGUN`` or ``ANY_TIME``.
    hours : ThreePoint
        What it still takes [h].
    steps : tuple of StepToDo
        Those not done.
    cast_steps : tuple of StepToDo
        Every step of one cast, for those after the one in hand.
    begun : bool
        Whether it is in hand.
    crew : int
        People who work on it at once [each].
    room : str
        ``BAY``, ``weather.OUTDOORS`` or "".
    sign_off : str
        What is still to be signed, "" for nothing.
    sign_off_days : float
        From asking to signing by the clock; what is left of it where it has been asked for [day].
    asked : bool
        Whether it has been asked for.
    held_h : float
        What is left of a hold that runs [h].
    held_why : str
    is_out : bool
        Whether it is a firm outside that holds it.
    casts, taken, moulds : int
        Casts to be taken yet, those taken, and how many at once [each].
    beside : bool
        Whether no other stage waits for it, but for the casts of one more mould.
    second_mould : str
        The stage that makes one of the ``moulds``; as every so manieth cast comes from it, it waits for that.
    mould_pieces : int
        Of how many pieces each mould is [each].
    apart : bool
        Whether each piece is laid up, cured and emptied by itself, so that the next cast begins in it.
    """

    id: str
    key: str
    name: str
    section: str
    position: int
    waits: str
    hours: ThreePoint
    steps: tuple[StepToDo, ...]
    cast_steps: tuple[StepToDo, ...] = ()
    begun: bool = False
    crew: int = 1
    room: str = ""
    sign_off: str = ""
    sign_off_days: float = 0.0
    asked: bool = False
    held_h: float = 0.0
    held_why: str = ""
    is_out: bool = False
    casts: int = 1
    taken: int = 0
    moulds: int = 1
    beside: bool = False
    second_mould: str = ""
    mould_pieces: int = 1
    apart: bool = False


@dataclass(frozen=True, slots=True)
class CommissionToDo:
    """A commission with the stages that have not passed; ``is_delivered`` where it is yet to be taken to its place."""

    id: str
    name: str
    stages: tuple[StageToDo, ...]
    due: int | None = None
    weight: int = 1
    is_delivered: bool = False
    site: Site = field(default_factory=Site)
    promise: Promise = field(default_factory=Promise)

    def promising(self, promise: Promise, days: Workdays) -> "CommissionToDo":
        """The same with other days agreed.

        Parameters
        ----------
        promise : Promise
        days : Workdays
            Those of the plan.

        Returns
        -------
        CommissionToDo
        """
        return replace(self, due=promise.due(days), site=promise.site(days), promise=promise)
