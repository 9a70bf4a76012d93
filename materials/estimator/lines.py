"""What a take-off consists of: lines with their workings, hours, warnings.

Every figure carries its working: the formula in plain words and the terms it
was worked from, each with value, unit and origin. The page, the PDF and the
tests print the same working.
"""

from dataclasses import dataclass

STAGES = ("pattern", "mould", "cast", "finish", "metalwork", "crate")


@dataclass(frozen=True, slots=True)
class Term:
    """One number in a working.

    Attributes
    ----------
    label : str
        What it is ("skin area").
    value : float
        The number, in ``unit``.
    unit : str
        Its unit as pint reads it ("m^2", "kg/m^2"), "" for a pure number.
    origin : str
        Where it came from: "sphere, from its dimensions", "entered", "lay-up Light skin",
        "studio figure: common practice, no source", "ISO 12215-5 Annex C".
    """

    label: str
    value: float
    unit: str
    origin: str


@dataclass(frozen=True, slots=True)
class Line:
    """One material or sent-out service that one stage of one section needs.

    Attributes
    ----------
    section, stage, material : str
        Section name, one of ``STAGES``, and the catalogue key ("gel_coat", "glass_csm_450").
    net : float
        What ends in the work, for all counts and pulls, in ``unit``.
    buy : float
        Net after waste and application loss, before rounding to packs, in ``unit``.
    unit : str
        kg, m2, m3, l, ml, m, h or each.
    formula : str
        The arithmetic in plain words, naming the terms ("skin area x gel coat x casts").
    terms : tuple of Term
        The numbers of the formula, in its order, the allowances last.
    """

    section: str
    stage: str
    material: str
    net: float
    buy: float
    unit: str
    formula: str
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class HourLine:
    """Person-hours of one step of one stage of one section, for all counts and pulls.

    Attributes
    ----------
    section, stage, step : str
        Section name, one of ``STAGES``, and the step's key ("laminate").
    low, likely, high : float
        Three-point estimate [h].
    formula, terms
        As in ``Line``.
    """

    section: str
    stage: str
    step: str
    low: float
    likely: float
    high: float
    formula: str
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Caution:
    """Something a practitioner would stop at.

    Attributes
    ----------
    section : str
        Section name, "" for the whole job.
    code : str
        Stable key ("heavy_piece").
    text : str
        One sentence with the numbers and what to do.
    """

    section: str
    code: str
    text: str


@dataclass(frozen=True, slots=True)
class PatternFigures:
    """One pattern of the section.

    Attributes
    ----------
    blocks : int
        Foam blocks bought.
    bought_m3, solid_m3 : float
        Foam bought, and foam that stays in the pattern [m^3].
    yield_fraction : float
        Solid over bought [dimensionless].
    foam_kg, mass_kg : float
        Mass of the foam alone, and with the filler on it [kg].
    """

    blocks: int
    bought_m3: float
    solid_m3: float
    yield_fraction: float
    foam_kg: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class MouldFigures:
    """One mould of the section: area with returns [m^2], mass, and that of one piece [kg], bolts and pieces [each].

    ``returns_kg`` is what of its mass stands in the returns [kg].
    """

    area_m2: float
    mass_kg: float
    piece_mass_kg: float
    bolts: int
    pieces: int
    # What was frozen before the returns were weighed apart has none.
    returns_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class CastFigures:
    """One cast of the section: skin thickness [mm]; its laminate from net quantities, its metal, its finish [kg]."""

    thickness_mm: float
    mass_kg: float
    # What was frozen before the metal was counted here has none.
    metal_kg: float = 0.0
    # Likewise of filler and paint.
    finish_kg: float = 0.0

    @property
    def whole_kg(self) -> float:
        """One cast with the metal in it and its filler and paint on it, as it is carried, lifted and crated [kg]."""
        return self.mass_kg + self.metal_kg + self.finish_kg


@dataclass(frozen=True, slots=True)
class SectionFigures:
    """The measures of one section as it stands once.

    Attributes
    ----------
    name : str
    area_m2, seam_m : float
        Skin area [m^2] and seam length [m].
    volume_m3 : float or None
        Enclosed volume [m^3].
    length_m, width_m, height_m : float
        Extents [m].
    patterns, moulds, casts : int
        How many of each are made in all [each].
    pattern, mould, cast
        Figures of one of each.
    """

    name: str
    area_m2: float
    volume_m3: float | None
    seam_m: float
    length_m: float
    width_m: float
    height_m: float
    patterns: int
    moulds: int
    casts: int
    pattern: PatternFigures
    mould: MouldFigures
    cast: CastFigures


@dataclass(frozen=True, slots=True)
class TakeOff:
    """Everything a job needs, line by line. Lines and hours are ordered by section, then stage."""

    name: str
    sections: tuple[SectionFigures, ...]
    lines: tuple[Line, ...]
    hours: tuple[HourLine, ...]
    warnings: tuple[Caution, ...]
