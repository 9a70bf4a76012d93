"""The finish: filler on skin and seams, paint coat by coat, abrasives.

Films, solids and losses come with each coat; the spreading rate is that of
paint makers' general information sheets. Filler is bought with its hardener.
Other figures are common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from materials.estimator.catalogue import paint_words
from materials.estimator.coatings import check_sanded, spreading_rate_m2_l
from materials.estimator.counts import Counts
from materials.estimator.lines import Line, Term
from materials.estimator.seams import Seams
from materials.estimator.spec import Coat, SectionSpec
from materials.estimator.working import Basis, Part, Place, needed, part, worked


def finish_stage(section: SectionSpec, seams: Seams, counts: Counts, basis: Basis) -> tuple[float, tuple[Line, ...]]:
    """Fillers, paints and abrasives of a section's casts.

    Parameters
    ----------
    section : SectionSpec
    seams : Seams
    counts : Counts
    basis : Basis

    Returns
    -------
    float and tuple of Line
        What of it stays on one cast, filler after sanding and paint once it is dry [kg]; lines for all casts.

    Raises
    ------
    Missing
        When a studio figure is not there.
    OutOfRange
        For a studio figure that cannot be worked with.
    """
    place, casts = Place(section.name, "finish"), [counts.cast_term]
    grade = section.grade.lower()
    skin = Term("skin area", section.form.area_m2, "m^2", section.form.origin)
    discs = worked(place, "abrasive_disc", "each", [part([skin, basis.term(f"discs_{grade}")])], casts)
    filler = _filler_line(place, skin, seams, grade, casts, basis)
    films_mm = sum(coat.coats * coat.dry_film_um for coat in section.coats) / 1000
    # A millimetre on a square metre is a litre.
    paint_kg = films_mm * skin.value * basis.value("paint_density")
    lines = (filler, *_paint_lines(place, skin, section.coats, casts), discs)
    return filler.net / counts.casts + paint_kg, needed(lines)


def _filler_line(place: Place, skin: Term, seams: Seams, grade: str, casts: list[Term], basis: Basis) -> Line:
    sanded, density = basis.term("fairing_sanded"), basis.term("fairing_density")
    check_sanded(sanded.value)
    half = Term("half", 0.5, "", "geometry: a fillet is a triangle")
    skim = [skin, basis.term(f"fairing_share_{grade}"), basis.term("fairing_depth")]
    fillet = [seams.joined, basis.term("fillet_width"), basis.term("fillet_depth"), half]
    parts = [part(skim, lost=sanded), part(fillet, lost=sanded)]
    return worked(place, "fairing_filler", "kg", parts, [density, *casts])


def _paint_lines(place: Place, skin: Term, coats: tuple[Coat, ...], casts: list[Term]) -> Iterator[Line]:
    """A line to each paint, its hardener, and the thinner of all; a paint that stands twice is summed."""
    parts: dict[str, list[Part]] = {}
    for coat, words in zip(coats, _numbered(coats), strict=True):
        terms = _coat_terms(coat, words)
        for material, share in terms.shares:
            factors = [skin, terms.coats] if share is None else [skin, terms.coats, share]
            parts.setdefault(material, []).append(part(factors, [terms.spreading_rate], terms.loss))
    for material, summed in parts.items():
        yield worked(place, material, "l", summed, casts)


@dataclass(frozen=True, slots=True)
class _CoatTerms:
    """What one paint's lines are worked from; ``shares`` are of the mixed paint, None for all of it."""

    coats: Term
    spreading_rate: Term
    loss: Term
    shares: tuple[tuple[str, Term | None], ...]


# Many sections share a paint system, so its terms are made once.
@lru_cache(maxsize=1024)
def _coat_terms(coat: Coat, words: str) -> _CoatTerms:
    shares: list[tuple[str, Term | None]] = [(coat.kind, None)]
    if coat.hardener_per_base > 0:
        base = 1 / (1 + coat.hardener_per_base)
        ratio = f"paint system: {coat.hardener_per_base:g} of hardener to 1 of base"
        shares = [
            (coat.kind, Term(f"{words} share of base", base, "", ratio)),
            (f"hardener_{coat.kind}", Term(f"{words} share of hardener", 1 - base, "", ratio)),
        ]
    if coat.thinner > 0:
        shares.append(("thinner", Term(f"{words} thinner", coat.thinner, "", "paint system: to 1 of mixed paint")))
    return _CoatTerms(
        coats=Term(f"{words} coats", coat.coats, "", "paint system"),
        spreading_rate=Term(
            f"{words} spreading rate",
            spreading_rate_m2_l(coat.volume_solids, coat.dry_film_um),
            "m^2/l",
            f"10 × {coat.volume_solids * 100:g} % volume solids ÷ {coat.dry_film_um:g} µm dry",
        ),
        loss=Term(f"{words} loss", coat.loss, "", "paint system"),
        shares=tuple(shares),
    )


def _numbered(coats: tuple[Coat, ...]) -> Iterator[str]:
    """Each paint in words, numbered from the second of its kind on, so that no two terms are called the same."""
    seen: dict[str, int] = {}
    for coat in coats:
        seen[coat.kind] = seen.get(coat.kind, 0) + 1
        words = paint_words(coat.kind)
        yield words if seen[coat.kind] == 1 else f"{words} {seen[coat.kind]}"
