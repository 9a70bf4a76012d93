"""A model cut by planes into sections, and a section again into the pieces of its mould.

Each section is closed by the cut, but its area is skin alone. A seam is the
line on the skin between two neighbours; it is listed once for the pair.
"""

from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from materials.estimator.errors import EstimatorError, Missing, OutOfRange
from materials.estimator.form import Form
from materials.mesh.pieces import Piece, SeamLines, SkinPiece, SolidPiece
from materials.mesh.planes import Plane
from materials.mesh.solid import NotASolid, solid_of
from materials.mesh.stations import form_of
from materials.mesh.tidying import least_volume
from materials.mesh.topology import bodies_of, edges_of
from materials.mesh.triangles import FloatArray, Mesh, add_up, areas_and_normals, box_of, extremes, used_points

Point = tuple[float, float, float]

MOST_PLANES = 40
_MOST_SECTIONS = 600
# A plane this near to a flat face, as a share of the diagonal, is moved just past it: 3 um on a 3 m piece.
_IN_FACE = 1e-6
# What the parts may miss of the whole.
_EXACT = 1e-6
# Planes nearer to each other than this are one and the same.
_THINNEST_M = 1e-4


class BadCut(EstimatorError):
    """Planes that do not part the model, or part it badly."""

    def __init__(self, planes: object, message: str) -> None:
        super().__init__("cut", planes, message)


@dataclass(frozen=True, slots=True, eq=False)
class CutSection:
    """One section, where it stands in the whole.

    Attributes
    ----------
    name : str
        "1" for the lowest, and so on upwards.
    above : tuple of bool
        For each plane, whether the section lies above it.
    mesh : Mesh
        Closed where the whole is; faces that a cut made are marked as joints.
    area_m2 : float
        Skin, without the faces that a cut made [m^2].
    joint_area_m2 : float
        Faces that a cut made [m^2]; 0 where the model is open.
    volume_m3 : float or None
        Enclosed volume [m^3]; None where the model is open.
    low_m, high_m : tuple of float
        Lowest and highest corner of the box round it (x, y, z) [m].
    centre_of_mass_m : tuple of float or None
        Centre of the volume, as it stands in the whole [m]; None where there is none.
    shell_centre_m : tuple of float
        Centre of its skin [m].
    parts : int
        Separate bodies in the section [dimensionless]; more than one can be parted by a further plane.
    """

    name: str
    above: tuple[bool, ...]
    mesh: Mesh
    area_m2: float
    joint_area_m2: float
    volume_m3: float | None
    low_m: Point
    high_m: Point
    centre_of_mass_m: Point | None
    shell_centre_m: Point
    parts: int

    @property
    def extents_m(self) -> Point:
        """Length, width and height along x, y and z [m]."""
        x, y, z = (top - foot for foot, top in zip(self.low_m, self.high_m, strict=True))
        return x, y, z

    @property
    def form(self) -> Form:
        """The section as the estimator reads it."""
        return form_of(self.mesh)

    def shell_mass_kg(self, skin_kg_m2: float) -> float:
        """Return the mass of its skin laid up evenly.

        Parameters
        ----------
        skin_kg_m2 : float
            Mass of the lay-up with its gel coat [kg/m^2].

        Returns
        -------
        float
            Mass [kg].

        Raises
        ------
        OutOfRange
            If the lay-up's mass is not a finite number above 0.
        """
        if not (np.isfinite(skin_kg_m2) and skin_kg_m2 > 0):
            raise OutOfRange("lay-up mass", skin_kg_m2, "kg/m²", 0)
        return self.area_m2 * skin_kg_m2


@dataclass(frozen=True, slots=True, eq=False)
class Seam:
    """Where two neighbours meet on the skin.

    Attributes
    ----------
    first, second : str
        Names of the sections, the one above the plane second.
    plane : int
        Which of the planes parts them, counted from 0 [dimensionless].
    length_m : float
        Length on the skin, once for the pair [m].
    lines : ndarray of float64, shape (s, 2, 3)
        The line itself, piece by piece [m].
    """

    first: str
    second: str
    plane: int
    length_m: float
    lines: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """The sections, lowest first, and the seams between them."""

    planes: tuple[Plane, ...]
    sections: tuple[CutSection, ...]
    seams: tuple[Seam, ...]

    @property
    def seam_m(self) -> float:
        """Length of all seams, each once [m]."""
        return sum(seam.length_m for seam in self.seams)

    def seam_of(self, name: str) -> float:
        """Return the length of the seams round one section.

        Parameters
        ----------
        name : str

        Returns
        -------
        float
            Length [m].
        """
        return sum(seam.length_m for seam in self.seams if name in (seam.first, seam.second))

    def seam_centre_of(self, name: str) -> Point:
        """Return the middle of the seams round one section, each weighed by its length.

        Parameters
        ----------
        name : str

        Returns
        -------
        tuple of float
            As it stands in the whole [m].

        Raises
        ------
        Missing
            For a section without a seam.
        """
        own = [seam.lines for seam in self.seams if name in (seam.first, seam.second)]
        if not own:
            raise Missing("seam", f"section {name} meets no other.")
        lines = np.concatenate(own)
        lengths = np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1)
        return _point(np.asarray(np.average(lines.mean(axis=1), axis=0, weights=lengths)))


def cut(mesh: Mesh, planes: tuple[Plane, ...]) -> Cut:
    """Cut a model, or a section of one, by planes; every plane goes right through.

    Parameters
    ----------
    mesh : Mesh
        Tidied, in metres.
    planes : tuple of Plane

    Returns
    -------
    Cut

    Raises
    ------
    Missing
        Where no plane is given.
    OutOfRange
        For more than 40 planes.
    BadCut
        Where a plane misses the model or lies in flat faces of both its sides, or where the
        planes make more than 600 sections.
    NotASolid
        Where the faces close but do not part inside from outside.

    References
    ----------
    Common practice, no source.
    """
    if not planes:
        raise Missing("parting plane", "give at least one.")
    if len(planes) > MOST_PLANES:
        raise OutOfRange("number of planes", len(planes), "", 1, MOST_PLANES)
    points = used_points(mesh)
    low, high = extremes(points)
    near = _IN_FACE * float(np.linalg.norm(high - low))
    clear = tuple(_clear_of_faces(mesh, plane, near) for plane in planes)
    _check_each_cuts(points, clear)
    _check_none_twice(clear)
    finished = [(above, *piece.finish(clear)) for above, piece in parts_of(_start(mesh), clear)]
    made = sorted((_section(above, part, lines) for above, part, lines in finished), key=lambda pair: _rank(pair[0]))
    named = [(replace(section, name=str(number)), lines) for number, (section, lines) in enumerate(made, start=1)]
    sections = tuple(section for section, _ in named)
    _check_sums(mesh, sections)
    return Cut(planes, sections, _seams(named))


def _clear_of_faces(mesh: Mesh, plane: Plane, near: float) -> Plane:
    """Return the plane, moved just past any flat face that lies in it, so that the face stays skin of its own side."""
    within = np.abs(plane.distances(mesh.vertices)) <= near
    if np.count_nonzero(within) < 3:
        return plane
    lying = within[mesh.faces].all(axis=1)
    if not lying.any():
        return plane
    areas, normals = areas_and_normals(Mesh(mesh.vertices, mesh.faces[lying]))
    facing = areas * (normals @ np.array(plane.normal))
    upward, downward = float(facing[facing > 0].sum()), float(-facing[facing < 0].sum())
    if min(upward, downward) > _EXACT * max(upward, downward):
        raise BadCut(
            plane,
            f"{plane.words.capitalize()} lies in flat faces of both the part above and the part below; "
            "move it by a millimetre.",
        )
    return replace(plane, offset_m=plane.offset_m + (2 * near if upward >= downward else -2 * near))


def _check_each_cuts(points: FloatArray, planes: tuple[Plane, ...]) -> None:
    for plane in planes:
        distances = plane.distances(points)
        if not distances.min() < 0 < distances.max():
            across = distances + plane.offset_m
            raise BadCut(
                plane,
                f"{plane.words.capitalize()} misses the model, which reaches from {across.min():.3f} m to "
                f"{across.max():.3f} m along it; move the plane.",
            )


def _check_none_twice(planes: tuple[Plane, ...]) -> None:
    for one, other in combinations(planes, 2):
        along = float(np.dot(one.normal, other.normal))
        if abs(along) > 1 - 1e-12 and abs(other.offset_m * np.sign(along) - one.offset_m) < _THINNEST_M:
            raise BadCut(other, f"{other.words.capitalize()} is given twice; leave one of them out.")


def _start(mesh: Mesh) -> Piece:
    if edges_of(mesh.faces).surplus.any():
        return SkinPiece(mesh.vertices[mesh.skin.faces], {})
    if add_up(mesh.vertices, mesh.faces).volume <= least_volume(mesh):
        raise NotASolid("The model encloses nothing that could be cut; give its faces a thickness, or leave it open.")
    solid, skin = solid_of(mesh)
    return SolidPiece(solid, skin, least_volume(mesh))


def parts_of(whole: Piece, planes: tuple[Plane, ...]) -> list[tuple[tuple[bool, ...], Piece]]:
    """Split a piece by all planes; return what is left, each with its side of every plane.

    Parameters
    ----------
    whole : Piece
    planes : tuple of Plane

    Returns
    -------
    list of (tuple of bool, Piece)

    Raises
    ------
    BadCut
        For more than 600 sections.
    """
    parts: list[tuple[tuple[bool, ...], Piece]] = []
    _divide(whole, planes, _in_order(planes), {}, parts)
    return parts


def _in_order(planes: tuple[Plane, ...]) -> list[int]:
    """Return the planes' places, parallel ones together and by height, so that halving the list halves the model."""
    return sorted(range(len(planes)), key=lambda index: (planes[index].normal, planes[index].offset_m))


def _divide(
    piece: Piece,
    planes: tuple[Plane, ...],
    left: list[int],
    sides: dict[int, bool],
    parts: list[tuple[tuple[bool, ...], Piece]],
) -> None:
    if piece.is_empty():
        return
    if not left:
        if len(parts) >= _MOST_SECTIONS:
            raise BadCut(planes, f"These planes make more than {_MOST_SECTIONS} sections; use fewer of them.")
        parts.append((tuple(sides[index] for index in range(len(planes))), piece))
        return
    middle = left[len(left) // 2]
    plane = planes[middle]
    rest = [index for index in left if index != middle]
    lowest, highest = piece.reach(plane)
    if lowest >= 0 or highest <= 0:
        _divide(piece, planes, rest, sides | {middle: lowest >= 0}, parts)
        return
    above, below = piece.split(plane, middle)
    for half, is_above in ((above, True), (below, False)):
        known = {index: is_above for index in rest if _beyond(planes[index], plane, is_above)}
        open_still = [index for index in rest if index not in known]
        _divide(half, planes, open_still, sides | known | {middle: is_above}, parts)


def _beyond(other: Plane, plane: Plane, is_above: bool) -> bool:
    """Tell whether a parallel plane lies on the far side of one that was cut, so that it cannot cut this half."""
    if other.normal != plane.normal:
        return False
    return other.offset_m <= plane.offset_m if is_above else other.offset_m >= plane.offset_m


def _section(above: tuple[bool, ...], mesh: Mesh, lines: SeamLines) -> tuple[CutSection, SeamLines]:
    whole, skin = add_up(mesh.vertices, mesh.faces), add_up(mesh.vertices, mesh.skin.faces)
    low, high = box_of(mesh)
    parts, _ = bodies_of(mesh)
    closed = mesh.joint is not None
    section = CutSection(
        name="",
        above=above,
        mesh=mesh,
        area_m2=skin.area,
        joint_area_m2=whole.area - skin.area if closed else 0.0,
        volume_m3=whole.volume if closed else None,
        low_m=_point(low),
        high_m=_point(high),
        centre_of_mass_m=whole.volume_centre if closed else None,
        shell_centre_m=skin.area_centre,
        parts=parts,
    )
    return section, lines


def _rank(section: CutSection) -> tuple[float, ...]:
    x, y, z = section.shell_centre_m
    return round(section.low_m[2], 4), round(z, 4), round(x, 4), round(y, 4)


def _check_sums(mesh: Mesh, sections: tuple[CutSection, ...]) -> None:
    area = add_up(mesh.vertices, mesh.skin.faces).area
    missed = abs(sum(section.area_m2 for section in sections) - area) / area
    volumes = [section.volume_m3 for section in sections if section.volume_m3 is not None]
    if volumes:
        volume = add_up(mesh.vertices, mesh.faces).volume
        missed = max(missed, abs(sum(volumes) - volume) / volume)
    if missed > _EXACT:
        raise NotASolid(
            f"The sections do not add up to the model (they are out by {missed:.1e}), so its faces must run through "
            "each other; join them into one closed surface in the modelling program and export it again."
        )


def _seams(named: list[tuple[CutSection, SeamLines]]) -> tuple[Seam, ...]:
    at = {section.above: section for section, _ in named}
    seams = []
    for section, lines in named:
        for plane, segments in sorted(lines.items()):
            opposite = (*section.above[:plane], True, *section.above[plane + 1 :])
            # Each pair once, from the side below; the other side's line is the same.
            if not section.above[plane] and opposite in at and len(segments):
                length = float(np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1).sum())
                seams.append(Seam(section.name, at[opposite].name, plane, length, segments))
    return tuple(seams)


def _point(values: FloatArray) -> Point:
    x, y, z = (float(value) for value in values)
    return x, y, z
