"""What is to be made: the input of the take-off, in SI numbers.

``materials.specfile`` reads these from text with units; the studio's own
lay-ups, paint systems, norms and coefficients (``studio``) arrive here as
values too, so that a take-off depends on nothing but its arguments. What
cannot be made is refused when it is put together: the limits are common
practice, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.form import Form
from materials.estimator.ranges import one_of, whole, within

GRADES = ("A", "B", "C")
METHODS = ("carved", "milled")
GLASS_KINDS = ("csm", "woven", "stitched", "tissue")
COAT_KINDS = ("primer", "filler_primer", "topcoat", "clearcoat")
PER = ("m2", "m2_layer", "m2_coat", "m_seam", "piece", "kg", "object")


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
    topic : str
        What it belongs to ("laminate", "foam"), to list it under.
    """

    key: str
    label: str
    unit: str
    value: float
    low: float
    high: float
    evidence: str
    source: str
    topic: str = ""

    def __post_init__(self) -> None:
        within(self.label, self.value, self.unit, 0, None)


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

    def __post_init__(self) -> None:
        name = f"Norm {self.stage}, {self.step}"
        one_of(f"{name}, grade", self.grade, GRADES)
        one_of(f"{name}, per", self.per, PER)
        within(f"{name}, low", self.low, "h", 0, None)
        within(f"{name}, likely", self.likely, "h", self.low, None)
        within(f"{name}, high", self.high, "h", self.likely, None)


@dataclass(frozen=True, slots=True)
class Block:
    """A stock size of foam [m]; any of its sides may lie any way."""

    length_m: float
    width_m: float
    thickness_m: float

    def __post_init__(self) -> None:
        for side in (self.length_m, self.width_m, self.thickness_m):
            within("Side of a foam block", side, "m", 0.02, 20)


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

    def __post_init__(self) -> None:
        one_of("Kind of glass", self.kind, GLASS_KINDS)
        within("Weight of the glass", self.weight_kg_m2, "kg/m2", 0.02, 2, "Mat is sold in g/m2 or oz/ft2.")
        within("Glass fraction", self.glass_fraction, "", 0.05, 0.7, "It is a share of the mass, such as 0.30.")
        whole("Layers", self.layers, "", 1, 40)

    @property
    def material(self) -> str:
        """Catalogue key of the glass, "glass_csm_450"."""
        return f"glass_{self.kind}_{round(self.weight_kg_m2 * 1000)}"


@dataclass(frozen=True, slots=True)
class LayUp:
    """Gel coat [kg/m^2] and plies from the face inwards.

    A mould's returns carry ``return_extra_layers`` more of the first ply.
    """

    name: str
    gel_coat_kg_m2: float
    plies: tuple[Ply, ...]
    return_extra_layers: int = 0

    def __post_init__(self) -> None:
        within("Gel coat", self.gel_coat_kg_m2, "kg/m2", 0, 3)
        whole("Extra layers on the returns", self.return_extra_layers, "", 0, 10)
        if not self.plies:
            raise Missing("Plies of the lay-up", "give at least one layer of glass.")

    @property
    def extra_plies(self) -> tuple[Ply, ...]:
        """What a mould's returns carry besides; none where the lay-up says no more."""
        extra = self.return_extra_layers
        return (replace(self.plies[0], layers=extra),) if extra else ()


@dataclass(frozen=True, slots=True)
class Coat:
    """One paint of a system.

    Attributes
    ----------
    kind : str
        Catalogue key: "primer", "filler_primer", "topcoat" or "clearcoat".
    volume_solids : float
        Share of the mixed paint that stays as film [dimensionless].
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

    def __post_init__(self) -> None:
        one_of("Kind of paint", self.kind, COAT_KINDS)
        within("Volume solids", self.volume_solids, "", 0.05, 1, "It is a share of the volume, such as 0.50.")
        within("Dry film", self.dry_film_um, "um", 5, 2000)
        whole("Coats", self.coats, "", 1, 12)
        within("Application loss", self.loss, "", 0, 0.9, "It is a share of the paint, such as 0.50.")
        within("Hardener to one of base", self.hardener_per_base, "", 0, 5)
        within("Thinner to one of paint", self.thinner, "", 0, 1)


@dataclass(frozen=True, slots=True)
class PatternSpec:
    """How the pattern is made.

    Attributes
    ----------
    method : str
        "carved" by hand in the shop, or "milled" elsewhere.
    block : Block
        Stock the foam is bought in.
    filler_mm : float
        Thickness of the filler on the foam [mm].
    barrier_coats, wax_coats : int
    """

    method: str
    block: Block
    filler_mm: float
    barrier_coats: int
    wax_coats: int

    def __post_init__(self) -> None:
        one_of("Way the pattern is made", self.method, METHODS)
        within("Filler thickness", self.filler_mm, "mm", 0, 100)
        whole(
            "Barrier coats",
            self.barrier_coats,
            "coats",
            1,
            20,
            "Styrene from the resin dissolves polystyrene foam, so nothing may be laid up on bare foam.",
        )
        whole("Wax coats on the pattern", self.wax_coats, "coats", 0, 20)


@dataclass(frozen=True, slots=True)
class MouldSpec:
    """How the section is moulded.

    Attributes
    ----------
    pieces : int
    seam_m : float or None
        Length of the seams as entered [m], None to have it measured or estimated. Of a mould in one
        piece it is the rim, along which the cast is joined to its neighbour.
    return_width_m : float
        Width of the returns [m].
    layup : LayUp
    frame_kg_per_piece : float
        Backing frame of one piece [kg].
    seam_closed : bool
        Whether the seams run round without an end.
    """

    pieces: int
    seam_m: float | None
    return_width_m: float
    layup: LayUp
    frame_kg_per_piece: float
    seam_closed: bool = False

    def __post_init__(self) -> None:
        whole("Mould pieces", self.pieces, "", 1, 60)
        if self.seam_m is not None:
            within("Seam", self.seam_m, "m", 0.001, 2000, "Leave it out to have it estimated.")
        within("Return width", self.return_width_m, "m", 0.02, 0.5)
        within("Backing frame of a piece", self.frame_kg_per_piece, "kg", 0, 500)


@dataclass(frozen=True, slots=True)
class Joining:
    """How a cast is joined inside, along its seams.

    Attributes
    ----------
    strip_width_m : float
        Width of the glass strips [m].
    layers : int
    ply : Ply
        Glass of the strips; its own number of layers does not count.
    bolt_pitch_m : float or None
        Pitch of bolts besides the strips [m], None for none.
    """

    strip_width_m: float
    layers: int
    ply: Ply
    bolt_pitch_m: float | None = None

    def __post_init__(self) -> None:
        within("Width of the joining strips", self.strip_width_m, "m", 0.02, 1)
        whole("Layers of the joining strips", self.layers, "", 1, 12)
        if self.bolt_pitch_m is not None:
            within("Pitch of the joining bolts", self.bolt_pitch_m, "m", 0.02, 2)

    @property
    def plies(self) -> tuple[Ply, ...]:
        """The glass of the strips, with their layers."""
        return (replace(self.ply, layers=self.layers),)


@dataclass(frozen=True, slots=True)
class CastSpec:
    """Casts taken of each section made [each], their lay-up and their joining."""

    pulls: int
    layup: LayUp
    joining: Joining

    def __post_init__(self) -> None:
        whole("Casts", self.pulls, "", 1, 1000)


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

    def __post_init__(self) -> None:
        one_of("Grade", self.grade, GRADES)
        whole("Count", self.count, "", 1, 1000)
        within("Metal", self.metal_kg, "kg", 0, 100_000)
        within("Skin area", self.form.area_m2, "m2", 1e-6, 1e6)
        for side in (self.form.length_m, self.form.width_m, self.form.height_m):
            within("Extent of the form", side, "m", 1e-4, 1000)
        if self.form.volume_m3 is not None:
            within("Enclosed volume", self.form.volume_m3, "m3", 1e-12, 1e7)


@dataclass(frozen=True, slots=True)
class Allowances:
    """Shares added to net [dimensionless]: gel coat, glass (cutting waste), overlap (laps of glass), resin."""

    gel_coat: float
    glass: float
    overlap: float
    resin: float

    def __post_init__(self) -> None:
        for name, share in (
            ("gel coat", self.gel_coat),
            ("glass", self.glass),
            ("overlap", self.overlap),
            ("resin", self.resin),
        ):
            within(f"Allowance for {name}", share, "", 0, 2, "It is a share of the net quantity, such as 0.15.")


@dataclass(frozen=True, slots=True)
class JobSpec:
    """The whole job, with the studio's figures it is to be worked by.

    Attributes
    ----------
    sections : tuple of SectionSpec
    allowances : Allowances
    catalyst_percent : float
        Volume of catalyst on weight of resin [percent].
    coefficients : mapping of str to Coefficient
    norms : tuple of Norm
        Without any, the job is worked without hours.
    """

    name: str
    sections: tuple[SectionSpec, ...]
    allowances: Allowances
    catalyst_percent: float
    coefficients: Mapping[str, Coefficient]
    norms: tuple[Norm, ...] = field(default=())

    def __post_init__(self) -> None:
        if not self.sections:
            raise Missing("Sections", "give at least one.")
        seen: set[str] = set()
        for section in self.sections:
            if section.name in seen:
                message = f"Two sections are called {section.name}; give each a name of its own."
                raise EstimatorError("section name", section.name, message)
            seen.add(section.name)
