"""Glass and resin of the plies laid on several areas, a line to each glass.

Glass is bought with cutting waste and overlap, resin with what stays in the
bucket: common practice, no source. Overlap is bought but not weighed, as the
skin's mass is reckoned from net quantities.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from materials.estimator.catalogue import glass_words
from materials.estimator.laminate import resin_kg_m2
from materials.estimator.lines import Line, Term
from materials.estimator.spec import Ply
from materials.estimator.working import Basis, Part, Place, part, worked


@dataclass(frozen=True, slots=True)
class Laid:
    """Plies laid on an area.

    Attributes
    ----------
    area : tuple of Term
        Terms whose product is the area [m^2].
    plies : tuple of Ply
    where : str
        Where they lie, in words ("in the skin").
    origin : str
        What says so ("lay-up Light skin").
    """

    area: tuple[Term, ...]
    plies: tuple[Ply, ...]
    where: str
    origin: str


def glass_lines(place: Place, laid: Sequence[Laid], times: Sequence[Term], basis: Basis) -> Iterator[Line]:
    """Dry glass, a line to each material.

    Parameters
    ----------
    place : Place
    laid : sequence of Laid
    times : sequence of Term
        How many are made.
    basis : Basis

    Yields
    ------
    Line
        [kg]
    """
    parts: dict[str, list[Part]] = {}
    for one in laid:
        for material, glass in _glass_terms(one.plies, one.where, one.origin):
            parts.setdefault(material, []).append(part([*one.area, glass]))
    for material, summed in parts.items():
        yield worked(place, material, "kg", summed, times, [basis.glass_waste, basis.overlap])


def resin_line(place: Place, laid: Sequence[Laid], times: Sequence[Term], basis: Basis) -> Line:
    """Resin that wets out the plies.

    Parameters
    ----------
    place : Place
    laid : sequence of Laid
    times : sequence of Term
        How many are made.
    basis : Basis

    Returns
    -------
    Line
        [kg]
    """
    parts = [part([*one.area, _resin_term(one.plies, one.where, one.origin)]) for one in laid if one.plies]
    return worked(place, "laminating_resin", "kg", parts, times, [basis.resin_waste])


# Many sections share a lay-up, so what it holds to a square metre is worked once.
@lru_cache(maxsize=1024)
def _glass_terms(plies: tuple[Ply, ...], where: str, origin: str) -> tuple[tuple[str, Term], ...]:
    alike: dict[str, list[Ply]] = {}
    for ply in plies:
        alike.setdefault(ply.material, []).append(ply)
    terms = []
    for material, same in alike.items():
        layers = sum(ply.layers for ply in same)
        weight = sum(ply.layers * ply.weight_kg_m2 for ply in same)
        words = f"{glass_words(same[0].kind, same[0].weight_kg_m2)} {where}"
        said = f"{origin}: {layers} layer{'' if layers == 1 else 's'}"
        terms.append((material, Term(words, weight, "kg/m^2", said)))
    return tuple(terms)


@lru_cache(maxsize=1024)
def _resin_term(plies: tuple[Ply, ...], where: str, origin: str) -> Term:
    weight = sum(resin_kg_m2(ply.layers * ply.weight_kg_m2, ply.glass_fraction) for ply in plies)
    words = ", ".join(
        f"{ply.layers} × {glass_words(ply.kind, ply.weight_kg_m2)} at glass fraction {ply.glass_fraction:g}"
        for ply in plies
    )
    return Term(f"resin {where}", weight, "kg/m^2", f"{origin}: {words}")
