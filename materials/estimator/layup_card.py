"""The lay-up card: what is laid up in which order and in how many sessions, and the glass to cut for it.

How many layers go on wet on wet, the overlap of cuts and the handy length of
a cut are the studio's figures: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from materials.estimator.catalogue import glass_words
from materials.estimator.laminate import gel_coat_mm, resin_kg_m2, thickness_mm
from materials.estimator.lines import Term
from materials.estimator.ranges import rounded_up, within
from materials.estimator.reckoned import Reckoned, product
from materials.estimator.spec import LayUp, Ply

# Weights, and the area they lie on.
_Part = tuple[tuple[Term, ...], Term]


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer as it is laid.

    Attributes
    ----------
    number : int
        From the face inwards, 1 first; 0 is the gel coat.
    session : int
        Which sitting it is laid in, 1 first.
    name : str
        What the trade calls it.
    weight_kg_m2 : float
        Of dry glass, or of gel coat [kg/m^2].
    resin_kg_m2 : float
        That wets it out [kg/m^2].
    thickness_mm : float
        All so far, gel coat included [mm].
    """

    number: int
    session: int
    name: str
    weight_kg_m2: float
    resin_kg_m2: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class Roll:
    """How glass comes and is cut: width of the roll, overlap of neighbours, longest handy cut [m]; trim, a share."""

    width: Term
    overlap: Term
    longest_cut: Term
    trim: Term


@dataclass(frozen=True, slots=True)
class Besides:
    """What is laid besides the lay-up, on an area of its own.

    Attributes
    ----------
    plies : tuple of Ply
    area : Term
        Of one mould or cast [m^2].
    where : str
        Where they lie, in words ("more on the returns").
    origin : str
        What says so.
    """

    plies: tuple[Ply, ...]
    area: Term
    where: str
    origin: str

    @property
    def layers(self) -> int:
        """How many there are [each]."""
        return sum(ply.layers for ply in self.plies)

    @property
    def glass(self) -> Term:
        """Dry glass of all its layers [kg/m^2]."""
        weight = sum(ply.layers * ply.weight_kg_m2 for ply in self.plies)
        return Term(f"glass {self.where}", weight, "kg/m^2", self.origin)

    @property
    def resin(self) -> Term:
        """Resin that wets them out [kg/m^2]."""
        weight = sum(resin_kg_m2(ply.layers * ply.weight_kg_m2, ply.glass_fraction) for ply in self.plies)
        return Term(f"resin {self.where}", weight, "kg/m^2", self.origin)


@dataclass(frozen=True, slots=True)
class Cuts:
    """What is cut of one glass.

    Attributes
    ----------
    name : str
    layers : int
    covered : Reckoned
        All its layers together [m^2].
    length : Reckoned
        Off the roll [m].
    cut_m : float
        Length of one cut [m].
    cuts_a_layer : int
        Cuts in one layer [each].
    mass : Reckoned
        Dry glass off the roll [kg].
    """

    name: str
    layers: int
    covered: Reckoned
    length: Reckoned
    cut_m: float
    cuts_a_layer: int
    mass: Reckoned


@dataclass(frozen=True, slots=True)
class LayUpCard:
    """A lay-up on one area.

    Attributes
    ----------
    layers : tuple of Layer
        From the face inwards, the gel coat first.
    sessions : int
    thickness, mass, resin, gel_coat : Reckoned
        Of the finished skin [mm], [kg]; of what is mixed, with waste [kg].
    cuts : tuple of Cuts
    """

    layers: tuple[Layer, ...]
    sessions: int
    thickness: Reckoned
    mass: Reckoned
    resin: Reckoned
    gel_coat: Reckoned
    cuts: tuple[Cuts, ...]


def sessions_of(plies: tuple[Ply, ...], wet_layers: float) -> tuple[tuple[Ply, int], ...]:
    """Each single layer with the session it is laid in; tissue goes on with what is under it.

    Parameters
    ----------
    plies : tuple of Ply
    wet_layers : float
        Layers laid wet on wet in one session [dimensionless].

    Returns
    -------
    tuple of (Ply, int)
        Single layers in order, and the session of each, 1 first; common practice, no source.

    Raises
    ------
    OutOfRange
        When no layer may be laid in a session.
    """
    within("Wet layers in one session", wet_layers, "", 1, 20)
    most, laid, found = int(wet_layers), 0, []
    for ply in plies:
        for _ in range(ply.layers):
            laid += ply.kind != "tissue"
            found.append((ply, max(1, ceil(laid / most))))
    return tuple(found)


def lay_up_card(
    lay_up: LayUp, area: Term, roll: Roll, terms: dict[str, Term], besides: Besides | None = None
) -> LayUpCard:
    """The card of one lay-up on one area.

    Parameters
    ----------
    lay_up : LayUp
    area : Term
        What is laid up, once [m^2].
    roll : Roll
    terms : dict of str to Term
        The studio's figures: glass_density, resin_density_cured, gel_coat_density, wet_layers, allowance_resin,
        allowance_gel_coat.
    besides : Besides or None
        What resin, mass and glass have in them as well.

    Returns
    -------
    LayUpCard
        Sources are those of the laminate's laws.

    Raises
    ------
    OutOfRange
        For an area, a roll or a studio figure that cannot be worked with.
    """
    within("Area to lay up", area.value, "m2", 1e-6, None)
    within("Width of the roll less the overlap", roll.width.value - roll.overlap.value, "m", 0.05, 5)
    within("Longest handy cut", roll.longest_cut.value, "m", 0.1, 20)
    layers = _layers(lay_up, terms)
    origin = f"lay-up {lay_up.name}"
    gel = Term("gel coat", lay_up.gel_coat_kg_m2, "kg/m^2", origin)
    glass = Term("glass", sum(layer.weight_kg_m2 for layer in layers if layer.number), "kg/m^2", origin)
    resin = Term("resin in the lay-up", sum(layer.resin_kg_m2 for layer in layers), "kg/m^2", origin)
    thickness = Reckoned(
        "thickness",
        layers[-1].thickness_mm,
        "mm",
        "gel coat ÷ its density + for each layer glass × (1 ÷ density of glass + (1 − fraction) ÷ fraction ÷ density "
        "of cured resin)",
        (
            gel,
            *(terms[key] for key in ("gel_coat_density", "glass_density", "resin_density_cured")),
            *_fractions(lay_up),
        ),
    )
    resin_waste, gel_waste = terms["allowance_resin"], terms["allowance_gel_coat"]
    cuts = _cuts(lay_up.plies, area, roll, origin, "")
    if besides is not None:
        cuts += _cuts(besides.plies, besides.area, roll, besides.origin, f", {besides.where}")
    all_of_it: list[_Part] = [((glass, resin, gel), area)]
    wetting: list[_Part] = [((resin,), area)]
    if besides is not None:
        all_of_it.append(((besides.glass, besides.resin), besides.area))
        wetting.append(((besides.resin,), besides.area))
    return LayUpCard(
        layers=layers,
        sessions=layers[-1].session,
        thickness=thickness,
        mass=_summed("mass of the laminate", all_of_it),
        resin=_summed("resin to have ready", wetting, resin_waste),
        gel_coat=_summed("gel coat to have ready", [((gel,), area)], gel_waste),
        cuts=tuple(cuts),
    )


def _summed(name: str, parts: Sequence[_Part], waste: Term | None = None) -> Reckoned:
    """Weights, each part's on its own area, and what is wasted."""
    value = sum(sum(weight.value for weight in weights) * area.value for weights, area in parts)
    words = " + ".join(f"({' + '.join(each.label for each in weights)}) × {area.label}" for weights, area in parts)
    terms = tuple(term for weights, area in parts for term in (*weights, area))
    if waste is None:
        return Reckoned(name, value, "kg", words, terms)
    return Reckoned(name, value * (1 + waste.value), "kg", f"({words}) × (1 + {waste.label})", (*terms, waste))


def _layers(lay_up: LayUp, terms: dict[str, Term]) -> tuple[Layer, ...]:
    density = terms["glass_density"].value, terms["resin_density_cured"].value
    thick = gel_coat_mm(lay_up.gel_coat_kg_m2, terms["gel_coat_density"].value)
    found = [Layer(0, 1, "Gel coat", lay_up.gel_coat_kg_m2, 0.0, thick)] if lay_up.gel_coat_kg_m2 else []
    for number, (ply, session) in enumerate(sessions_of(lay_up.plies, terms["wet_layers"].value), start=1):
        thick += thickness_mm(ply.weight_kg_m2, ply.glass_fraction, *density)
        name = glass_words(ply.kind, ply.weight_kg_m2)
        resin = resin_kg_m2(ply.weight_kg_m2, ply.glass_fraction)
        found.append(Layer(number, session, name, ply.weight_kg_m2, resin, thick))
    return tuple(found)


def _fractions(lay_up: LayUp) -> list[Term]:
    found = {glass_words(ply.kind, ply.weight_kg_m2): ply for ply in lay_up.plies}
    return [
        Term(f"glass fraction of {name}", ply.glass_fraction, "", f"lay-up {lay_up.name}")
        for name, ply in found.items()
    ]


def _cuts(plies: tuple[Ply, ...], area: Term, roll: Roll, origin: str, where: str) -> list[Cuts]:
    found = []
    alike = sorted(plies, key=lambda ply: ply.material)
    for _, group in groupby(alike, key=lambda ply: ply.material):
        same = list(group)
        ply, layers = same[0], Term("layers", sum(each.layers for each in same), "", origin)
        name = f"{glass_words(ply.kind, ply.weight_kg_m2)}{where}"
        covered = product(f"area of {name}", "m2", [area, layers])
        run_m = area.value * (1 + roll.trim.value) / (roll.width.value - roll.overlap.value)
        cuts = max(1, rounded_up(run_m / roll.longest_cut.value))
        length = Reckoned(
            f"length of {name} off the roll",
            layers.value * run_m,
            "m",
            f"{area.label} × (1 + {roll.trim.label}) ÷ ({roll.width.label} − {roll.overlap.label}) × {layers.label}",
            (area, roll.trim, roll.width, roll.overlap, layers),
        )
        weight = Term(f"weight of {name}", ply.weight_kg_m2, "kg/m^2", origin)
        mass = product(f"mass of {name} off the roll", "kg", [length.term, roll.width, weight])
        found.append(Cuts(name, round(layers.value), covered, length, run_m / cuts, cuts, mass))
    return found
