"""The mix card: batches no larger than can be laid before the gel, and what goes into each.

Pace of laying, usable share of the gel time and the largest bucket are the
studio's figures: common practice, no source. Catalyst goes by volume on weight,
1 % being 10 ml to a kilogram, as mixing tables of the trade have it; paste
hardener goes by weight.
"""

from dataclasses import dataclass

from materials.estimator.coatings import mixed_parts_l, spreading_rate_m2_l
from materials.estimator.errors import OutOfRange
from materials.estimator.gel import GelTable, gel_minutes
from materials.estimator.lines import Term
from materials.estimator.mix import ML_PER_KG_PERCENT, batch_kg, catalyst_ml
from materials.estimator.ranges import rounded_up, within
from materials.estimator.reckoned import Reckoned, product
from materials.estimator.spec import Coat

BY_VOLUME = "catalyst by volume on weight (1 % is 10 ml to 1 kg)"
BY_WEIGHT = "hardener by weight on weight (1 % is 10 g to 1 kg)"

_ML = Term("catalyst to a kilogram at one per cent", ML_PER_KG_PERCENT, "ml/kg/percent", f"the trade's {BY_VOLUME}")
_ML_TO_A_L = Term("millilitres to a litre", 1000.0, "ml/l", "by definition")
_G = Term("hardener to a kilogram at one per cent", 10.0, "g/kg/percent", BY_WEIGHT)


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast it is laid: resin a person lays in a minute, people, share of the gel time, largest bucket."""

    laid: Term
    people: Term
    usable: Term
    bucket: Term


@dataclass(frozen=True, slots=True)
class Cold:
    """Below ``stop`` nothing is mixed, below ``slow`` with a caution [degC]."""

    stop: Term
    slow: Term


@dataclass(frozen=True, slots=True)
class Batches:
    """A catalysed product, batch by batch.

    Attributes
    ----------
    amount, batch : Reckoned
        All of it, and one batch [kg].
    count : int
        Batches.
    gel, workable : Reckoned
        From stirring in to the gel, and the part of it in which it still wets out [min].
    catalyst_ml : Reckoned or None
        To one batch; None for a paste that is weighed [ml].
    catalyst_g : Reckoned
        To one batch [g].
    basis : str
        What the percentage is of.
    """

    amount: Reckoned
    batch: Reckoned
    count: int
    gel: Reckoned
    workable: Reckoned
    catalyst_ml: Reckoned | None
    catalyst_g: Reckoned
    basis: str


def check_warmth(temperature_c: float, cold: Cold) -> str:
    """Refuse a shop too cold to cure, and caution in a cold one.

    Parameters
    ----------
    temperature_c : float
        Of shop and product [degC].
    cold : Cold

    Returns
    -------
    str
        A caution, or nothing; common practice, no source.

    Raises
    ------
    OutOfRange
        Below the temperature at which nothing is mixed.
    """
    if temperature_c < cold.stop.value:
        raise OutOfRange(
            "Temperature of the workshop",
            temperature_c,
            "°C",
            cold.stop.value,
            None,
            "It would not cure through: warm the shop, the mould and the product, and measure again.",
        )
    if temperature_c < cold.slow.value:
        return (
            f"Below {cold.slow.value:g} °C cure is slow and may never finish; warm the shop and the product rather "
            "than put in more catalyst."
        )
    return ""


def batches(
    table: GelTable, amount: Reckoned, *, temperature: Term, percent: Term, pace: Pace, density: Term | None
) -> Batches:
    """Divide what is wanted into batches, and say what goes into one.

    Parameters
    ----------
    table : GelTable
        The product's own gel times.
    amount : Reckoned
        All that is to be mixed [kg].
    temperature, percent : Term
        Of the shop [degC], and of catalyst or hardener [percent].
    pace : Pace
    density : Term or None
        Of the catalyst [kg/l]; None where it is a paste that is weighed.

    Returns
    -------
    Batches
        Common practice, no source.

    Raises
    ------
    OutOfRange
        Outside the maker's table, or for a pace or amount that is none.
    """
    within("Amount to mix", amount.value, "kg", 1e-6, None)
    within("People laying", pace.people.value, "", 1, 50)
    within("Largest bucket", pace.bucket.value, "kg", 0.05, 50)
    minutes = gel_minutes(table, temperature.value, percent.value)
    gel = Reckoned(
        "gel time",
        minutes,
        "min",
        f"read from the maker's table of {table.product}, straight in the logarithm of the time between its entries",
        (temperature, percent),
    )
    most = min(batch_kg(minutes, pace.usable.value, pace.laid.value * pace.people.value), pace.bucket.value)
    count = rounded_up(amount.value / most)
    batch = Reckoned(
        "one batch",
        amount.value / count,
        "kg",
        f"{amount.name} ÷ batches; batches = {amount.name} ÷ the less of ({gel.name} × {pace.usable.label} × "
        f"{pace.laid.label} × {pace.people.label}) and {pace.bucket.label}, rounded up",
        (amount.term, Term("batches", count, "", "worked"), gel.term, pace.usable, pace.laid, pace.people, pace.bucket),
    )
    workable = product("workable for", "min", [gel.term, pace.usable])
    if density is None:
        weighed = product("hardener to one batch", "g", [batch.term, percent, _G])
        return Batches(amount, batch, count, gel, workable, None, weighed, BY_WEIGHT)
    # The guard of 1 to 4 % holds whatever a table says.
    catalyst_ml(batch.value, percent.value)
    measured = product("catalyst to one batch", "ml", [batch.term, percent, _ML])
    weighed = product("the same catalyst weighed", "g", [measured.term, density])
    return Batches(amount, batch, count, gel, workable, measured, weighed, BY_VOLUME)


@dataclass(frozen=True, slots=True)
class CoatMix:
    """One coat of a paint: base, hardener and thinner of it [ml], and how many coats there are.

    Attributes
    ----------
    coat : Coat
    base, hardener, thinner : Reckoned
        To one coat [ml].
    """

    coat: Coat
    base: Reckoned
    hardener: Reckoned
    thinner: Reckoned


def coat_mix(coat: Coat, area: Term, name: str) -> CoatMix:
    """What one coat of a paint takes, by the ratio of its system.

    Parameters
    ----------
    coat : Coat
    area : Term
        What is painted [m^2].
    name : str
        What the paint is called.

    Returns
    -------
    CoatMix
        Paint makers' practical spreading rate; the ratio by definition.

    Raises
    ------
    OutOfRange
        For a coat that cannot be worked with.
    """
    rate = Term(
        "spreading rate",
        spreading_rate_m2_l(coat.volume_solids, coat.dry_film_um),
        "m^2/l",
        f"10 × {coat.volume_solids * 100:g} % volume solids ÷ {coat.dry_film_um:g} µm dry",
    )
    loss = Term("loss", coat.loss, "", "paint system")
    mixed_l = area.value / (rate.value * (1 - coat.loss))
    base_l, hardener_l = mixed_parts_l(mixed_l, (1.0, coat.hardener_per_base))
    ratio = Term("hardener to one of base", coat.hardener_per_base, "", "paint system, by volume")
    thinner = Term("thinner to one of mixed paint", coat.thinner, "", "paint system, by volume")
    words = f"{_ML_TO_A_L.label} × {area.label} ÷ {rate.label} ÷ (1 − {loss.label})"
    terms = (_ML_TO_A_L, area, rate, loss)
    base_words, hardener_words = f"{words} ÷ (1 + {ratio.label})", f"{words} × {ratio.label} ÷ (1 + {ratio.label})"
    return CoatMix(
        coat,
        Reckoned(f"{name}, base", 1000 * base_l, "ml", base_words, (*terms, ratio)),
        Reckoned("hardener", 1000 * hardener_l, "ml", hardener_words, (*terms, ratio)),
        Reckoned("thinner", 1000 * mixed_l * coat.thinner, "ml", f"{words} × {thinner.label}", (*terms, thinner)),
    )
