"""A model file made ready to be measured, cut and drawn: read, to size, on its feet, tidied."""

from dataclasses import dataclass
from pathlib import Path

from materials.mesh.closing import close_holes
from materials.mesh.reading import Model, read_model
from materials.mesh.standing import placing_of
from materials.mesh.tidying import Tidied, tidy
from materials.mesh.triangles import Mesh
from materials.mesh.welding import weld


@dataclass(frozen=True, slots=True, eq=False)
class Loaded:
    """A model that stands.

    Attributes
    ----------
    tidied : Tidied
        The mesh in metres, z up, foot at 0, and what was found in it.
    scale : float
        Metres for one unit of the file [m].
    up : str
        The file's axis that points up.
    notes : tuple of str
        What was put right or closed, one sentence each.
    """

    tidied: Tidied
    scale: float
    up: str
    notes: tuple[str, ...]


def load(
    path: str | Path,
    *,
    name: str | None = None,
    up: str | None = None,
    unit: str | None = None,
    finished_height_m: float | None = None,
) -> Loaded:
    """Read a model file and stand the model up.

    Parameters
    ----------
    path : str or Path
    name : str, optional
        The name it was sent under, where ``path`` has none of its own.
    up : str, optional
        The file's axis that points up: "x", "-x", "y", "-y", "z" or "-z"; where it is
        not given, what the format defines, else "z".
    unit : str, optional
        The unit of the file's numbers, where the file does not state it.
    finished_height_m : float, optional
        Height that the model is brought to, whatever its unit [m].

    Returns
    -------
    Loaded

    Raises
    ------
    UnreadableModel, Missing, OutOfRange, UnknownChoice
        In one sentence, what is wrong and what to do.

    References
    ----------
    Common practice, no source.
    """
    return stand_up(read_model(path, name), up=up, unit=unit, finished_height_m=finished_height_m)


def stand_up(
    model: Model,
    *,
    up: str | None = None,
    unit: str | None = None,
    finished_height_m: float | None = None,
    close_holes_m: float | None = None,
) -> Loaded:
    """Bring a model to size, stand it up and tidy it.

    Parameters
    ----------
    model : Model
    up : str, optional
        The file's axis that points up; where it is not given, what the format defines, else "z".
    unit : str, optional
        The unit of the file's numbers, where the file does not state it.
    finished_height_m : float, optional
        Height that the model is brought to, whatever its unit [m].
    close_holes_m : float, optional
        Greatest width of holes to close; where it is not given, none is [m].

    Returns
    -------
    Loaded

    Raises
    ------
    Missing, OutOfRange, UnknownChoice
        In one sentence, what is wrong and what to do.

    References
    ----------
    Common practice, no source.
    """
    pointing = up or model.up or "z"
    placing = placing_of(model, up=pointing, unit=unit, finished_height_m=finished_height_m)
    welded = weld(model.points, model.faces)
    tidied = tidy(Mesh(placing.points(welded.vertices), welded.faces))
    notes = tidied.findings.notes
    if close_holes_m is not None:
        closed = close_holes(tidied.mesh, close_holes_m)
        tidied, notes = closed.tidied, (*notes, closed.note)
    return Loaded(tidied, placing.scale, pointing, notes)
