"""What is measured of a whole model: area, volume, extents, least box, balance, and whether it is closed."""

from dataclasses import dataclass

import numpy as np

from materials.estimator.errors import OutOfRange
from materials.mesh.balance import is_balanced
from materials.mesh.boxes import LeastBox, least_box
from materials.mesh.reading import Model
from materials.mesh.solid import NotASolid, solid_of
from materials.mesh.standing import Placing
from materials.mesh.tidying import Findings, Tidied, least_volume
from materials.mesh.topology import bodies_of
from materials.mesh.triangles import FloatArray, Mesh, add_up, box_of, extremes, used_points
from materials.mesh.welding import weld

_SMALL_HOLE = 0.2
_MOST_BODIES = 2000

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What can be said of a model as soon as it is read.

    Attributes
    ----------
    triangles : int
        Triangles in the file [dimensionless].
    area_m2 : float
        Area of all triangles [m^2].
    volume_m3 : float or None
        Enclosed volume [m^3]; None unless every edge is met by its opposite and the faces look outwards.
    length_m, width_m, height_m : float
        Extents along x, y and z as it stands [m].
    least_box : LeastBox
    centre_of_mass_m : tuple of float or None
        Centre of the volume (x, y, z) as it stands [m].
    shell_centre_m : tuple of float
        Centre of the area, which is that of a shell of even thickness [m].
    """

    triangles: int
    area_m2: float
    volume_m3: float | None
    length_m: float
    width_m: float
    height_m: float
    least_box: LeastBox
    centre_of_mass_m: Point | None
    shell_centre_m: Point

    @property
    def closed(self) -> bool:
        """Whether the model has a volume."""
        return self.volume_m3 is not None


@dataclass(frozen=True, slots=True)
class Measurements:
    """What is measured of a tidied model that stands.

    Attributes
    ----------
    area_m2 : float
        Area of the skin [m^2].
    volume_m3 : float or None
        Enclosed volume [m^3]; None where the model is open.
    volume_refused : str
        Why there is no volume and what to do, "" where there is one.
    length_m, width_m, height_m : float
        Extents along x, y and z [m].
    least_box : LeastBox
    centre_of_mass_m : tuple of float or None
        Centre of the volume [m]; None where there is none.
    shell_centre_m : tuple of float
        Centre of a shell of even thickness [m].
    overlap_m3 : float or None
        Volume that lies in more than one body and is counted more than once [m^3]; None where it cannot be told.
    findings : Findings
    """

    area_m2: float
    volume_m3: float | None
    volume_refused: str
    length_m: float
    width_m: float
    height_m: float
    least_box: LeastBox
    centre_of_mass_m: Point | None
    shell_centre_m: Point
    overlap_m3: float | None
    findings: Findings

    def shell_mass_kg(self, skin_kg_m2: float) -> float:
        """Return the mass of a shell of one lay-up over the whole skin.

        Parameters
        ----------
        skin_kg_m2 : float
            Mass of the lay-up with its gel coat [kg/m^2].

        Returns
        -------
        float
            Mass [kg]; its centre is ``shell_centre_m``.

        Raises
        ------
        OutOfRange
            If the lay-up's mass is not a finite number above 0.
        """
        if not (np.isfinite(skin_kg_m2) and skin_kg_m2 > 0):
            raise OutOfRange("lay-up mass", skin_kg_m2, "kg/m²", 0)
        return self.area_m2 * skin_kg_m2

    @property
    def notes(self) -> tuple[str, ...]:
        """What was found, put right or must be known, one sentence each."""
        said = list(self.findings.notes)
        bodies = f"{self.findings.bodies:,} bodies"
        if self.volume_refused:
            said.append(self.volume_refused)
        if self.overlap_m3 is None:
            said.append(f"Whether the model's {bodies} lie in one another cannot be told; look before cutting.")
        elif self.overlap_m3 > 0:
            said.append(
                f"The model is of {bodies} that lie in one another: {self.overlap_m3:.4f} m³ is counted "
                "twice, and so is the skin inside; join them in the modelling program and export it again."
            )
        return tuple(said)


def first_look(model: Model, placing: Placing) -> FirstLook:
    """Measure a model straight from its triangles, without looking for faults.

    Parameters
    ----------
    model : Model
    placing : Placing
        How it stands.

    Returns
    -------
    FirstLook

    References
    ----------
    Area and volume are sums over the triangles.
    """
    sums, scale = model.sums, placing.scale
    closed = sums.volume > 0 and is_balanced(model.points, model.faces)
    low, high = extremes(model.points)
    sides = np.abs(placing.turn @ (high - low)) * scale
    box = least_box(model.points)
    length, width, height = (float(side) for side in sides)
    return FirstLook(
        triangles=model.triangles,
        area_m2=sums.area * scale**2,
        volume_m3=sums.volume * scale**3 if closed else None,
        length_m=length,
        width_m=width,
        height_m=height,
        least_box=LeastBox(box.length_m * scale, box.width_m * scale, box.height_m * scale),
        centre_of_mass_m=_placed(sums.volume_centre, placing) if closed and sums.volume_centre else None,
        shell_centre_m=_placed(sums.area_centre, placing),
    )


def measure(tidied: Tidied) -> Measurements:
    """Measure a tidied model that stands.

    Parameters
    ----------
    tidied : Tidied
        In metres, z up.

    Returns
    -------
    Measurements

    References
    ----------
    Area and volume are sums over the triangles; the search for the least box is common practice, no source.
    """
    mesh, findings = tidied.mesh, tidied.findings
    sums = add_up(mesh.vertices, mesh.faces)
    low, high = box_of(mesh)
    length, width, height = (float(side) for side in high - low)
    closed = findings.closed and sums.volume > least_volume(mesh)
    return Measurements(
        area_m2=sums.area,
        volume_m3=sums.volume if closed else None,
        volume_refused="" if closed else _refusal(findings, max(length, width, height)),
        length_m=length,
        width_m=width,
        height_m=height,
        least_box=least_box(used_points(mesh)),
        centre_of_mass_m=sums.volume_centre if closed else None,
        shell_centre_m=sums.area_centre,
        overlap_m3=_overlap_m3(mesh) if closed and findings.bodies > 1 else 0.0,
        findings=findings,
    )


def _placed(point: Point, placing: Placing) -> Point:
    x, y, z = (float(value) for value in placing.points(np.array([point]))[0])
    return x, y, z


def _refusal(findings: Findings, largest_m: float) -> str:
    if findings.closed:
        return "The model encloses nothing, so it has no volume; give its faces a thickness in the modelling program."
    edges = f"{findings.open_edges:,} open edge{'' if findings.open_edges == 1 else 's'}"
    if not findings.holes:
        return (
            f"The model has {edges}: it is loose faces rather than one surface, so it has no volume; "
            "join them in the modelling program and export it again."
        )
    count = "1 hole" if len(findings.holes) == 1 else f"{len(findings.holes):,} holes"
    widest = findings.holes[0].width_m
    start = f"The model is open ({edges}, {count}, the widest {widest * 1000:,.0f} mm across), so it has no volume; "
    if widest <= _SMALL_HOLE * largest_m:
        return f"{start}close holes of up to {np.ceil(widest * 1000):,.0f} mm to give it one."
    return f"{start}close it in the modelling program and export it again, or go on with area and extents alone."


def _overlap_m3(mesh: Mesh) -> float | None:
    """Return what bodies facing outwards share; those that face inwards are hollows."""
    from manifold3d import Manifold, OpType

    bodies, body = bodies_of(mesh)
    if bodies > _MOST_BODIES:
        return None
    order = np.argsort(body, kind="stable")
    ends = np.searchsorted(body[order], np.arange(1, bodies))
    parts = [Mesh(mesh.vertices, mesh.faces[rows]) for rows in np.split(order, ends)]
    parts = [weld(part.vertices[part.faces].reshape(-1, 3), None) for part in parts]
    parts = [part for part in parts if add_up(part.vertices, part.faces).volume > 0]
    if not _any_meet([np.stack(box_of(part)) for part in parts]):
        return 0.0
    try:
        solids = [solid_of(part)[0] for part in parts]
    except NotASolid:
        return None
    apart = float(sum(solid.volume() for solid in solids))
    shared = apart - float(Manifold.batch_boolean(solids, OpType.Add).volume())
    # Bodies that only touch share nothing but rounding.
    return shared if shared > 1e-9 * apart else 0.0


def _any_meet(boxes: list[FloatArray]) -> bool:
    if len(boxes) < 2:
        return False
    low, high = np.array(boxes).transpose(1, 0, 2)
    meets = ((low[:, None] <= high[None]) & (low[None] <= high[:, None])).all(axis=2)
    return bool(meets.sum() > len(boxes))
