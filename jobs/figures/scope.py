"""What a commissioner is told of a section: the facts that may leave the workshop, picked one by one.

What is not named here stays inside: no quantity of material, no hour, no cost
passes through.
"""

from dataclasses import dataclass

from materials.estimator.errors import EstimatorError
from materials.estimator.lines import SectionFigures
from materials.estimator.spec import SectionSpec


@dataclass(frozen=True, slots=True)
class GlassLayers:
    """Layers of one kind of glass in a cast; ``kind`` as in ``spec.GLASS_KINDS``."""

    kind: str
    layers: int


@dataclass(frozen=True, slots=True)
class PaintLayers:
    """One paint of the finish; ``kind`` as in ``spec.COAT_KINDS``, ``dry_film_um`` of one coat [um]."""

    kind: str
    coats: int
    dry_film_um: float


@dataclass(frozen=True, slots=True)
class SectionScope:
    """One section as it is promised.

    Attributes
    ----------
    width_m, depth_m, height_m : float
        Extents as it stands, seen from the front [m].
    casts, moulds, mould_pieces : int
        How many are delivered, how many moulds they come from, and the pieces of one mould.
    mirrored : bool
        Whether half of them are the mirror image of the others.
    pattern : str
        "carved" or "milled".
    gel_coat : bool
        Whether the cast has one.
    glass : tuple of GlassLayers
        Each kind once, in the order in which the lay-up names them.
    thickness_mm : float
        Of the cast's skin, gel coat included [mm].
    grade : str
        "A", "B" or "C".
    paint_system : str
        Its name as a commissioner reads it, "" if it has none.
    paint : tuple of PaintLayers
        In the order in which they are put on.
    metal_kg, mass_kg : float
        Steel inside one cast, and one cast with it [kg].
    crated : bool
        Whether each gets a crate.
    """

    name: str
    width_m: float
    depth_m: float
    height_m: float
    casts: int
    moulds: int
    mould_pieces: int
    mirrored: bool
    pattern: str
    gel_coat: bool
    glass: tuple[GlassLayers, ...]
    thickness_mm: float
    grade: str
    paint_system: str
    paint: tuple[PaintLayers, ...]
    metal_kg: float
    mass_kg: float
    crated: bool


def scope_of(section: SectionSpec, figures: SectionFigures, *, paint_system: str = "") -> SectionScope:
    """Pick what a commissioner is told of a section.

    Parameters
    ----------
    section : SectionSpec
    figures : SectionFigures
        Of the same section.
    paint_system : str
        The paint system in the commissioner's words.

    Returns
    -------
    SectionScope

    Raises
    ------
    EstimatorError
        When the figures are another section's.
    """
    if section.name != figures.name:
        raise EstimatorError(
            "figures", figures.name, f"The figures are those of {figures.name}; give those of {section.name}."
        )
    layers: dict[str, int] = {}
    for ply in section.cast.layup.plies:
        layers[ply.kind] = layers.get(ply.kind, 0) + ply.layers
    return SectionScope(
        name=section.name,
        width_m=figures.length_m,
        depth_m=figures.width_m,
        height_m=figures.height_m,
        casts=figures.casts,
        moulds=figures.moulds,
        mould_pieces=figures.mould.pieces,
        mirrored=section.mirrored,
        pattern=section.pattern.method,
        gel_coat=section.cast.layup.gel_coat_kg_m2 > 0,
        glass=tuple(GlassLayers(kind, count) for kind, count in layers.items()),
        thickness_mm=figures.cast.thickness_mm,
        grade=section.grade,
        paint_system=paint_system,
        paint=tuple(PaintLayers(coat.kind, coat.coats, coat.dry_film_um) for coat in section.coats),
        metal_kg=section.metal_kg,
        mass_kg=figures.cast.whole_kg,
        crated=section.crated,
    )
