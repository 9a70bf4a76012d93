"""What is to be made: the input of the take-off, in SI numbers.

``materials.specfile`` reads these from text with units; the studio's own
lay-ups, paint systems, norms and coefficients arrive here as values too, so
that a take-off depends on nothing but its arguments.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from materials.estimator.form import Form

GRADES = ("A", "B", "C")


@dataclass(frozen=True, slots=True)
class Coefficient:
    """One figure a studio may differ on.

    Attributes
    ----------
    key, label, unit : str
        Stable key, plain words, unit as pint reads it ("" for a pure number).
    value, low, high : float
        The figure in use and the range it usually lies in, in ``unit``.
    evidence : str
        "found", "found-secondary", "memory", "practice" or "derived".
    source : str
        Where it is published, or "common practice, no source".
    """

    key: str
    label: str
    unit: str
    value: float
    low: float
    high: float
    evidence: str
    source: str


@dataclass(frozen=True, slots=True)
class Norm:
    """Person-hours of one step per unit of what drives it, for one grade.

    Attributes
    ----------
    stage, step, grade : str
    per : str
        "m2", "m2_layer", "m2_coat", "m_seam", "piece", "kg" or "object".
    low, likely, high : float
        Hours per ``per`` [h].
    """

    stage: str
    step: str
    grade: str
    per: str
    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Block:
    """A stock size of foam [m]; any of its sides may lie any way."""

    length_m: float
    width_m: float
    thickness_m: float


@dataclass(frozen=True, slots=True)
class Ply:
    """One or more equal layers of dry glass.

    Attributes
    ----------
    kind : str
        "csm", "woven", "stitched" or "tissue".
    weight_kg_m2 : float
        Dry glass in one layer [kg/m^2].
    glass_fraction : float
        Glass mass over laminate mass [dimensionless].
    layers : int
    """

    kind: str
    weight_kg_m2: float
    glass_fraction: float
    layers: int = 1

    @property
    def material(self) -> str:
        """Catalogue key of the glass, "glass_csm_450"."""
        return f"glass_{self.kind}_{round(self.weight_kg_m2 * 1000)}"


@dataclass(frozen=True, slots=True)
class LayUp:
    """Gel coat [kg/m^2] and plies from the face inwards; ``return_extra_layers`` more of the first ply on a mould's returns."""

    name: str
    gel_coat_kg_m2: float
    plies: tuple[Ply, ...]
    return_extra_layers: int = 0


@dataclass(frozen=True, slots=True)
class Coat:
    """One paint of a system.

    Attributes
    ----------
    kind : str
        Catalogue key: "primer", "filler_primer", "topcoat" or "clearcoat".
    volume_solids : float
        Share of the can that stays as film [dimensionless].
    dry_film_um : float
        Dry film of one coat [um].
    coats : int
    loss : float
        Share of the paint that misses the work [dimensionless], below 1.
    hardener_per_base : float
        Volume of hardener to one of base [dimensionless], 0 for one-pack paint.
    thinner : float
        Volume of thinner to one of mixed paint [dimensionless].
    """

    kind: str
    volume_solids: float
    dry_film_um: float
    coats: int
    loss: float
    hardener_per_base: float = 0.0
    thinner: float = 0.0


@dataclass(frozen=True, slots=True)
class PatternSpec:
    """How the pattern is made: "carved" by hand in the shop or "milled" elsewhere; stock block; filler thickness [mm]; coats [each]."""

    method: str
    block: Block
    filler_mm: float
    barrier_coats: int
    wax_coats: int


@dataclass(frozen=True, slots=True)
class MouldSpec:
    """Pieces [each], seam as entered [m] or None to estimate, return width [m], lay-up, backing frame of one piece [kg]."""

    pieces: int
    seam_m: float | None
    return_width_m: float
    layup: LayUp
    frame_kg_per_piece: float


@dataclass(frozen=True, slots=True)
class Joining:
    """Glass strips over the seams inside the cast: width [m], layers [each], ply."""

    strip_width_m: float
    layers: int
    ply: Ply


@dataclass(frozen=True, slots=True)
class CastSpec:
    """Casts taken from each mould [each], their lay-up and their joining."""

    pulls: int
    layup: LayUp
    joining: Joining


@dataclass(frozen=True, slots=True)
class SectionSpec:
    """One section.

    Attributes
    ----------
    count : int
        How often the section is made, each with a pattern and mould of its own.
    mirrored : bool
        Left and right: twice the patterns, moulds and casts.
    metal_kg : float
        Armature and fittings inside each cast [kg].
    crated : bool
        Whether each cast gets a crate.
    """

    name: str
    form: Form
    grade: str
    pattern: PatternSpec
    mould: MouldSpec
    cast: CastSpec
    coats: tuple[Coat, ...]
    count: int = 1
    mirrored: bool = False
    metal_kg: float = 0.0
    crated: bool = True


@dataclass(frozen=True, slots=True)
class Allowances:
    """Shares added to net [dimensionless]: gel coat, glass (cutting waste), overlap (laps between pieces of glass), resin."""

    gel_coat: float
    glass: float
    overlap: float
    resin: float


@dataclass(frozen=True, slots=True)
class JobSpec:
    """The whole job, with the studio's figures it is to be worked by."""

    name: str
    sections: tuple[SectionSpec, ...]
    allowances: Allowances
    catalyst_percent: float
    coefficients: Mapping[str, Coefficient]
    norms: tuple[Norm, ...] = field(default=())
