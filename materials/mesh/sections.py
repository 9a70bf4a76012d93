"""From a model file and its cuts to sections that the estimator, the drawing and the crate can read."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from materials.estimator.form import Form
from materials.estimator.outline import Outline, ViewName
from materials.mesh.cutting import cut
from materials.mesh.drawing import outlines_of
from materials.mesh.facets import Facet, flat_facets
from materials.mesh.loading import load
from materials.mesh.planes import Plane
from materials.mesh.stations import form_of
from materials.mesh.triangles import Mesh, add_up, box_of

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)
class MeshSection:
    """One section of a model, or the whole of one that is not cut.

    Attributes
    ----------
    name : str
        "1" for the lowest, and so on upwards.
    form : Form
        What the estimator reads.
    joint_m : float
        Length of the seams that it shares with its neighbours [m].
    extents_m : tuple of float
        Length, width and height [m].
    foot_m : tuple of float
        Middle of its extents across and its foot, where it stands in the whole (x, y, z) [m].
    centre_of_mass_m : tuple of float or None
        Centre of its volume, where it stands in the whole [m]; None where the model is open.
    shell_centre_m : tuple of float
        Centre of its skin, where it stands in the whole [m].
    outlines : mapping of str to Outline
        "front", "side" and "plan", from the middle of its extents and its foot.
    facets : tuple of Facet
        Flat facets of at least 0.5 m^2.
    """

    name: str
    form: Form
    joint_m: float
    extents_m: Point
    foot_m: Point
    centre_of_mass_m: Point | None
    shell_centre_m: Point
    outlines: Mapping[ViewName, Outline]
    facets: tuple[Facet, ...]


def sections_of(
    path: str | Path,
    *,
    planes: tuple[Plane, ...] = (),
    name: str | None = None,
    up: str | None = None,
    unit: str | None = None,
    finished_height_m: float | None = None,
) -> tuple[MeshSection, ...]:
    """Read a model file, stand it up, cut it, and return its sections from the foot up.

    Parameters
    ----------
    path : str or Path
    planes : tuple of Plane
        Parting planes, in metres, in the model as it stands: z up, foot at 0, x and y from
        the middle of its extents; none leaves it whole.
    name : str, optional
        The name the file was sent under, where ``path`` has none of its own.
    up : str, optional
        The file's axis that points up; where it is not given, what the format defines, else "z".
    unit : str, optional
        The unit of the file's numbers, where the file does not state it.
    finished_height_m : float, optional
        Height that the model is brought to, whatever its unit [m].

    Returns
    -------
    tuple of MeshSection

    Raises
    ------
    UnreadableModel, Missing, OutOfRange, UnknownChoice, BadCut, NotASolid
        In one sentence, what is wrong and what to do.

    References
    ----------
    Common practice, no source.
    """
    mesh = load(path, name=name, up=up, unit=unit, finished_height_m=finished_height_m).tidied.mesh
    if not planes:
        return (_section("1", mesh, 0.0),)
    parts = cut(mesh, planes)
    return tuple(_section(part.name, part.mesh, parts.seam_of(part.name)) for part in parts.sections)


def _section(name: str, mesh: Mesh, joint_m: float) -> MeshSection:
    low, high = box_of(mesh)
    whole = add_up(mesh.vertices, mesh.faces)
    length, width, height = (float(side) for side in high - low)
    form = form_of(mesh)
    return MeshSection(
        name=name,
        form=form,
        joint_m=joint_m,
        extents_m=(length, width, height),
        foot_m=(float(low[0] + high[0]) / 2, float(low[1] + high[1]) / 2, float(low[2])),
        centre_of_mass_m=None if form.volume_m3 is None else whole.volume_centre,
        shell_centre_m=add_up(mesh.vertices, mesh.skin.faces).area_centre,
        outlines=outlines_of(mesh),
        facets=flat_facets(mesh),
    )
