"""Lay-ups and paint systems of a specification: a studio's own by name, or written out."""

from materials.estimator.errors import EstimatorError, UnknownChoice
from materials.estimator.ranges import one_of
from materials.estimator.spec import GLASS_KINDS, GRADES, Coat, LayUp, Ply
from materials.estimator.studio import StudioFigures
from materials.specfile.fields import Fields, standing_at

_COAT_FIELDS = ("kind", "volume_solids", "dry_film", "coats", "loss", "hardener_per_base", "thinner")


class LayUps:
    """The studio's lay-ups, for a field ``layup`` that names one or writes its own."""

    def __init__(self, defaults: StudioFigures) -> None:
        self._defaults = defaults

    def read(self, fields: Fields, usual: str) -> LayUp:
        """The lay-up under ``layup``; the usual one where it is left out."""
        given = fields.raw("layup", "") if fields.has("layup") else usual
        if isinstance(given, str):
            if given not in self._defaults.layups:
                raise UnknownChoice(fields.place("layup"), given, self._defaults.layups)
            return self._defaults.layups[given]
        written = Fields(given, fields.place("layup"), ("name", "gel_coat", "plies", "return_extra_layers"))
        name = written.text("name", "as written")
        gel_coat_kg_m2 = written.quantity("gel_coat", "areal_mass", allow_zero=True)
        plies = tuple(
            read_ply(each, f"{written.place('plies')}, ply {place}", self._defaults)
            for place, each in enumerate(written.listing("plies", "list at least one layer of glass."), start=1)
        )
        extra = written.whole("return_extra_layers", 0)
        with standing_at(written.where):
            return LayUp(name, gel_coat_kg_m2, plies, extra)


def read_ply(data: object, where: str, defaults: StudioFigures, *, layered: bool = True) -> Ply:
    """One ply; the glass fraction is the studio's for its kind where it is left out."""
    known = ("kind", "weight", "glass_fraction", "layers") if layered else ("kind", "weight", "glass_fraction")
    fields = Fields(data, where, known)
    kind = fields.text("kind")
    with standing_at(where):
        one_of("Kind of glass", kind, GLASS_KINDS)
    weight_kg_m2 = fields.quantity("weight", "areal_mass")
    glass_fraction = fields.number("glass_fraction", defaults.value(f"glass_fraction_{kind}"))
    layers = fields.whole("layers", 1) if layered else 1
    with standing_at(where):
        return Ply(kind, weight_kg_m2, glass_fraction, layers)


def read_coats(section: Fields, grade: str, defaults: StudioFigures) -> tuple[Coat, ...]:
    """The coats under ``finish``: written out, of a system by name, or of the grade's usual system."""
    fields = section.inner("finish", ("coats", "system"))
    if fields.has("coats") and fields.has("system"):
        message = f"{fields.where} has both coats and a system; give one of them."
        raise EstimatorError(fields.where, None, message)
    if fields.has("coats"):
        listed = fields.listing("coats", "")
        return tuple(_coat(each, f"{fields.where}, coat {place}") for place, each in enumerate(listed, start=1))
    with standing_at(section.where):
        one_of("Grade", grade, GRADES)
    system = fields.text("system", defaults.system_by_grade.get(grade, ""))
    if not system:
        raise EstimatorError(
            fields.place("system"), None, f"{fields.place('system')} is missing; grade {grade} has no usual one."
        )
    if system not in defaults.paint_systems:
        raise UnknownChoice(fields.place("system"), system, defaults.paint_systems)
    return defaults.paint_systems[system]


def _coat(data: object, where: str) -> Coat:
    fields = Fields(data, where, _COAT_FIELDS)
    kind = fields.text("kind")
    volume_solids = fields.number("volume_solids")
    dry_film_um = fields.quantity("dry_film", "film")
    coats, loss = fields.whole("coats"), fields.number("loss")
    hardener_per_base, thinner = fields.number("hardener_per_base", 0.0), fields.number("thinner", 0.0)
    with standing_at(where):
        return Coat(kind, volume_solids, dry_film_um, coats, loss, hardener_per_base, thinner)
