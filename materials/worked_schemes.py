"""What a lay-up or a paint system comes to on a square metre, as the office reads it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from materials.estimator.catalogue import GLASS_NAMES, paint_words
from materials.estimator.coatings import mixed_parts_l, paint_l, wet_film_um
from materials.estimator.laminate import gel_coat_mm, stack_of
from materials.estimator.spec import Coat, Coefficient, LayUp
from materials.units import System, format_quantity


@dataclass(frozen=True, slots=True)
class LayUpWorked:
    """A lay-up: thickness with gel coat [mm], glass, resin and all of it [kg/m²], glass over laminate, remarks."""

    thickness_mm: float
    glass_kg_m2: float
    resin_kg_m2: float
    mass_kg_m2: float
    glass_fraction: float
    cautions: tuple[str, ...]


def work_lay_up(value: LayUp, figures: Mapping[str, Coefficient]) -> LayUpWorked:
    """A lay-up by the studio's densities; ``figures`` is by key."""
    stack = stack_of(value.plies, figures["glass_density"].value, figures["resin_density_cured"].value)
    gel_mm = gel_coat_mm(value.gel_coat_kg_m2, figures["gel_coat_density"].value)
    return LayUpWorked(
        thickness_mm=stack.thickness_mm + gel_mm,
        glass_kg_m2=stack.glass_kg_m2,
        resin_kg_m2=stack.resin_kg_m2,
        mass_kg_m2=stack.laminate_kg_m2 + value.gel_coat_kg_m2,
        glass_fraction=stack.glass_fraction,
        cautions=tuple(_unusual_fractions(value, figures)),
    )


def _unusual_fractions(value: LayUp, figures: Mapping[str, Coefficient]) -> list[str]:
    found = {}
    for ply in value.plies:
        usual = figures[f"glass_fraction_{ply.kind}"]
        if not usual.low <= ply.glass_fraction <= usual.high:
            name = GLASS_NAMES[ply.kind]
            found[name, ply.glass_fraction] = (
                f"{name} with {ply.glass_fraction * 100:.3g} % of glass lies outside the usual "
                f"{usual.low * 100:.3g} to {usual.high * 100:.3g} %."
            )
    return list(found.values())


def lay_up_in_words(value: LayUp, system: System) -> str:
    """A lay-up from the face inwards, as a schedule on the wall would have it."""
    weights = [(ply, format_quantity(ply.weight_kg_m2, "areal_mass", system)) for ply in value.plies]
    layers = [f"{ply.layers} × {weight} {GLASS_NAMES[ply.kind].lower()}" for ply, weight in weights]
    if value.gel_coat_kg_m2:
        layers.insert(0, f"{format_quantity(value.gel_coat_kg_m2, 'areal_mass', system)} gel coat")
    more = f"; {value.return_extra_layers} more on the returns" if value.return_extra_layers else ""
    return ", ".join(layers) + more


@dataclass(frozen=True, slots=True)
class CoatWorked:
    """One paint: base, hardener and thinner [l/m²], wet film of a coat and dry film of all coats [µm]."""

    name: str
    coats: int
    base_l_m2: float
    hardener_l_m2: float
    thinner_l_m2: float
    wet_film_um: float
    dry_film_um: float

    @property
    def total_l_m2(self) -> float:
        """Everything that goes into the gun [l/m²]."""
        return self.base_l_m2 + self.hardener_l_m2 + self.thinner_l_m2


@dataclass(frozen=True, slots=True)
class SystemWorked:
    """A paint system: its coats, and what they sum to [l/m²], [µm]."""

    coats: tuple[CoatWorked, ...]

    @property
    def total_l_m2(self) -> float:
        """Base, hardener and thinner of all coats [l/m²]."""
        return sum(coat.total_l_m2 for coat in self.coats)

    @property
    def dry_film_um(self) -> float:
        """Dry film of all coats [µm]."""
        return sum(coat.dry_film_um for coat in self.coats)


def work_system(coats: Sequence[Coat]) -> SystemWorked:
    """A paint system, coat by coat."""
    return SystemWorked(tuple(_work_coat(coat) for coat in coats))


def _work_coat(coat: Coat) -> CoatWorked:
    mixed = paint_l(1.0, coat.coats, coat.volume_solids, coat.dry_film_um, coat.loss)
    base, hardener = mixed_parts_l(mixed, (1.0, coat.hardener_per_base))
    return CoatWorked(
        name=paint_words(coat.kind),
        coats=coat.coats,
        base_l_m2=base,
        hardener_l_m2=hardener,
        thinner_l_m2=mixed * coat.thinner,
        wet_film_um=wet_film_um(coat.dry_film_um, coat.volume_solids, coat.thinner),
        dry_film_um=coat.dry_film_um * coat.coats,
    )
