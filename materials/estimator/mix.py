"""Mixing: catalyst, fillers, and how long a batch stays workable.

For polyester and vinyl ester resins catalysed with peroxide; epoxy is mixed by
its maker's ratio and has no place here. Gel-time laws are for checking a
chart, never for reading beyond it: two workshop charts published for gel coat
change eightfold in ten degrees where the rule of thumb says twofold. The usual
way on the bench is the studio's own table.
"""

from dataclasses import dataclass
from math import exp, log

from materials.estimator.errors import OutOfRange
from materials.estimator.ranges import within

ML_PER_KG_PERCENT = 10.0
LEAST_PERCENT = 1.0
MOST_PERCENT = 4.0
MOST_FILLER = 0.60

_GAS_CONSTANT_KJ_MOL_K = 8.314462618e-3
_ZERO_C_IN_K = 273.15


def check_catalyst_percent(percent: float) -> None:
    """Refuse a catalyst percentage that will not cure, or will burn.

    Parameters
    ----------
    percent : float
        Volume of catalyst on weight of resin [percent].

    Raises
    ------
    OutOfRange
        Outside 1 to 4, the limits of suppliers' guidance.
    """
    hint = "Less does not cure, more burns; change the temperature of the shop or the grade of catalyst instead."
    within("Catalyst", percent, "%", LEAST_PERCENT, MOST_PERCENT, hint)


def catalyst_ml(resin_kg: float, percent: float) -> float:
    """Catalyst by volume on weight: 1 % is 10 ml to a kilogram.

    Parameters
    ----------
    resin_kg : float
        Resin or gel coat to be mixed [kg].
    percent : float
        Volume of catalyst on weight of resin [percent].

    Returns
    -------
    float
        [ml]

    Raises
    ------
    OutOfRange
        For a percentage outside 1 to 4, or a mass below nothing.

    References
    ----------
    Mixing tables of the trade: 1 kg at 1, 2, 3, 4 % takes 10, 20, 30, 40 ml.
    """
    check_catalyst_percent(percent)
    within("Resin", resin_kg, "kg", 0, None)
    return ML_PER_KG_PERCENT * percent * resin_kg


@dataclass(frozen=True, slots=True)
class FilledResin:
    """Resin with filler: density [kg/m^3], volume [l], share of the volume that is filler [dimensionless]."""

    density_kg_m3: float
    volume_l: float
    filler_share: float


def filled_resin(
    resin_kg: float, resin_density_kg_m3: float, filler_kg: float, filler_density_kg_m3: float
) -> FilledResin:
    """Density and volume of resin mixed with filler: masses and volumes add.

    Parameters
    ----------
    resin_kg, filler_kg : float
        What is mixed [kg].
    resin_density_kg_m3, filler_density_kg_m3 : float
        Densities of the liquid resin and of the solid filler [kg/m^3].

    Returns
    -------
    FilledResin

    Raises
    ------
    OutOfRange
        For a quantity at or below nothing, or filler above 0.60 of the volume, which no hand can mix
        (common practice, no source).
    """
    within("Resin", resin_kg, "kg", 1e-9, None)
    within("Filler", filler_kg, "kg", 0, None)
    within("Density of the resin", resin_density_kg_m3, "kg/m3", 1, 25_000)
    within("Density of the filler", filler_density_kg_m3, "kg/m3", 1, 25_000)
    resin_l = 1000 * resin_kg / resin_density_kg_m3
    filler_l = 1000 * filler_kg / filler_density_kg_m3
    volume_l = resin_l + filler_l
    share = filler_l / volume_l
    within("Share of filler by volume", share, "", 0, MOST_FILLER, "Put in less filler, or a heavier one.")
    return FilledResin(1000 * (resin_kg + filler_kg) / volume_l, volume_l, share)


def gel_time_by_q10_min(gel_min: float, at_c: float, to_c: float, q10: float) -> float:
    """Gel time at another temperature by the rule that ten degrees change it ``q10``-fold.

    Unsafe beyond a few degrees: see the head of this file.

    Parameters
    ----------
    gel_min : float
        Gel time measured [min].
    at_c, to_c : float
        Temperature it was measured at, and that asked about [degC].
    q10 : float
        Change of gel time in ten degrees [dimensionless]; common practice, no source.

    Returns
    -------
    float
        [min]

    Raises
    ------
    OutOfRange
        For a time or factor that is not positive, or a temperature no shop has.
    """
    within("Gel time", gel_min, "min", 1e-6, None)
    _check_temperatures(at_c, to_c)
    within("Change of gel time in ten degrees", q10, "", 1, 20)
    return float(gel_min * q10 ** ((at_c - to_c) / 10))


def gel_time_by_arrhenius_min(gel_min: float, at_c: float, to_c: float, activation_kj_mol: float) -> float:
    """Gel time at another temperature by Arrhenius' law.

    Unsafe beyond a few degrees: see the head of this file.

    Parameters
    ----------
    gel_min : float
        Gel time measured [min].
    at_c, to_c : float
        Temperature it was measured at, and that asked about [degC].
    activation_kj_mol : float
        Activation energy [kJ/mol]; 50 to 70 for polyester cured with peroxide and accelerator, from memory.

    Returns
    -------
    float
        [min]

    Raises
    ------
    OutOfRange
        For a time or energy that is not positive, or a temperature no shop has.
    """
    within("Gel time", gel_min, "min", 1e-6, None)
    _check_temperatures(at_c, to_c)
    within("Activation energy", activation_kj_mol, "kJ/mol", 1, 500)
    inverse = 1 / (to_c + _ZERO_C_IN_K) - 1 / (at_c + _ZERO_C_IN_K)
    return gel_min * exp(activation_kj_mol / _GAS_CONSTANT_KJ_MOL_K * inverse)


def q10_of_chart(warm_min: float, warm_c: float, cold_min: float, cold_c: float) -> float:
    """The tenfold-degree factor that two readings of a chart amount to.

    Parameters
    ----------
    warm_min, cold_min : float
        Gel times read [min].
    warm_c, cold_c : float
        Temperatures they are read at [degC].

    Returns
    -------
    float
        [dimensionless]; common practice, no source.

    Raises
    ------
    OutOfRange
        For a time that is not positive, a temperature no shop has, or a warm reading that is not the warmer.
    """
    within("Gel time", warm_min, "min", 1e-6, None)
    within("Gel time", cold_min, "min", 1e-6, None)
    _check_temperatures(warm_c, cold_c)
    if warm_c <= cold_c:
        raise OutOfRange("Warmer reading", warm_c, "C", low=cold_c, hint="Give the warmer reading first.")
    return exp(10 / (warm_c - cold_c) * log(cold_min / warm_min))


def batch_kg(gel_min: float, usable_share: float, laid_kg_per_min: float) -> float:
    """Largest batch that can be laid before it gels.

    Parameters
    ----------
    gel_min : float
        Gel time in the pot [min].
    usable_share : float
        Share of the gel time in which resin still wets glass [dimensionless]; common practice, no source.
    laid_kg_per_min : float
        Resin that those at the mould lay down [kg/min]; common practice, no source.

    Returns
    -------
    float
        [kg]

    Raises
    ------
    OutOfRange
        For a value that is not positive, or a share above the whole.
    """
    within("Gel time", gel_min, "min", 1e-6, None)
    within("Usable share of the gel time", usable_share, "", 1e-6, 1)
    within("Resin laid", laid_kg_per_min, "kg/min", 1e-6, None)
    return gel_min * usable_share * laid_kg_per_min


def adiabatic_rise_k(
    heat_kj_kg: float, resin_heat_capacity_kj_kg_k: float, glass_heat_capacity_kj_kg_k: float, glass_fraction: float
) -> float:
    """Temperature rise if none of the heat of cure escaped: an upper bound, never a forecast.

    Parameters
    ----------
    heat_kj_kg : float
        Heat of cure of the resin [kJ/kg]; 300 to 400 for polyester, from memory.
    resin_heat_capacity_kj_kg_k, glass_heat_capacity_kj_kg_k : float
        Heat capacities [kJ/kg/K], from memory.
    glass_fraction : float
        Glass mass over laminate mass, 0 for neat resin [dimensionless].

    Returns
    -------
    float
        [K]

    Raises
    ------
    OutOfRange
        For a heat or capacity that is not positive, or a fraction that leaves no resin.
    """
    within("Heat of cure", heat_kj_kg, "kJ/kg", 1e-6, None)
    within("Heat capacity of the resin", resin_heat_capacity_kj_kg_k, "kJ/kg/K", 1e-6, None)
    within("Heat capacity of the glass", glass_heat_capacity_kj_kg_k, "kJ/kg/K", 1e-6, None)
    within("Glass fraction", glass_fraction, "", 0, 0.95)
    resin = 1 - glass_fraction
    return heat_kj_kg * resin / (resin * resin_heat_capacity_kj_kg_k + glass_fraction * glass_heat_capacity_kj_kg_k)


def _check_temperatures(*temperatures_c: float) -> None:
    for temperature_c in temperatures_c:
        within("Temperature", temperature_c, "C", -20, 60)
