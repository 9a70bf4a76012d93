"""Whether a flat part of a skin is stiff enough, and what would make it so.

Strength and modulus are those of ISO 12215-5:2008 Annex C for hand-laid mat and
roving in polyester, seen second-hand. Linear plate theory holds while the
deflection is no more than half the thickness; beyond it membrane forces take
over, its number is no forecast, and the flat is too flexible as a single skin.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from materials.estimator.lines import Term
from materials.estimator.plates import EDGES, Bent, Plate, under_pressure, under_push
from materials.estimator.ranges import within

UNMEASURED = 0.8
_MOST_PLIES, _MOST_PLIES_WITH, _MOST_RIBS = 30, 6, 8
_CORES_MM = (5, 10, 15, 20, 25, 30, 40, 50)
# ISO 12215-5:2008, curvature factor: crown over short side, and how far it shortens the span that counts.
_LEAST_CROWN, _MOST_CROWN, _LEAST_FACTOR = 0.03, 0.18, 0.5


@dataclass(frozen=True, slots=True)
class Strength:
    """Properties of a hand-laid laminate, ultimate strengths and moduli [N/mm^2]."""

    flexural: float
    tensile: float
    compressive: float
    shear: float
    modulus: float
    shear_modulus: float
    interlaminar_shear: float


def strength_of(glass_fraction: float, *, measured: bool) -> Strength:
    """Properties of hand-laid E-glass and polyester by glass content.

    Parameters
    ----------
    glass_fraction : float
        Glass mass over laminate mass [dimensionless].
    measured : bool
        Whether the glass content was measured; where it is not, everything counts for 0.8 of itself.

    Returns
    -------
    Strength

    Raises
    ------
    OutOfRange
        For a fraction that no hand lays up.

    References
    ----------
    ISO 12215-5:2008 Annex C, Table C.4 a) and C.1.4, seen as a third-party transcription.
    """
    within("Glass fraction", glass_fraction, "", 0.15, 0.65, "The formulas are for mat and roving laid by hand.")
    g, sure = glass_fraction, 1.0 if measured else UNMEASURED
    return Strength(
        flexural=sure * (502 * g**2 + 107),
        tensile=sure * (800 * g**2 - 80 * g + 37),
        compressive=sure * (150 * g + 72),
        shear=sure * (80 * g + 38),
        modulus=sure * (38_000 * g - 5_000),
        shear_modulus=sure * (1_700 * g + 2_240),
        interlaminar_shear=sure * (22.5 - 17.5 * g),
    )


@dataclass(frozen=True, slots=True)
class Loads:
    """What a panel is checked for: wind [Pa], a push [N] over a palm of some radius [m], each as a term."""

    wind: Term
    push: Term
    palm: Term


@dataclass(frozen=True, slots=True)
class Limits:
    """What is allowed: factor on flexural strength, and span over deflection, each as a term [dimensionless]."""

    safety: Term
    span_share: Term


@dataclass(frozen=True, slots=True)
class Case:
    """One load with one kind of edge.

    Attributes
    ----------
    load : str
        "wind" or "push".
    edges : str
        "supported" or "clamped".
    bent : Bent
        By linear theory; its deflection is a forecast only where ``linear``.
    linear : bool
        Whether the deflection is no more than half the thickness.
    stiff : bool
        Whether it is linear and within the span's share.
    strong : bool
        Whether the stress is within what is allowed.
    """

    load: str
    edges: str
    bent: Bent
    linear: bool
    stiff: bool
    strong: bool


@dataclass(frozen=True, slots=True)
class Remedies:
    """What would make a panel pass, each by itself; None where it cannot.

    A rib or a crown shortens the span but does not thicken the skin, so a few more layers may have to go with it.

    Attributes
    ----------
    plies : int or None
        More layers of the ply.
    plied_mm : float or None
        Thickness then [mm].
    ribs : int or None
        Stiff ribs along the long side, evenly over the short one.
    rib_spacing_m : float or None
        Their spacing [m].
    rib_plies : int
        More layers with them.
    core_mm : int or None
        Core between two halves of the same skin [mm].
    core_times : float or None
        How many times as stiff that is in bending [dimensionless].
    crown_mm : float or None
        Rise over the short side [mm].
    crown_plies : int
        More layers with it.
    """

    plies: int | None
    plied_mm: float | None
    ribs: int | None
    rib_spacing_m: float | None
    rib_plies: int
    core_mm: int | None
    core_times: float | None
    crown_mm: float | None
    crown_plies: int


@dataclass(frozen=True, slots=True)
class PanelCheck:
    """A panel under every load with every kind of edge.

    Attributes
    ----------
    plate : Plate
    allowed_mpa : float
        Stress that is allowed [N/mm^2].
    most_mm : float
        Deflection that is allowed: half the thickness, or the span's share where that is less [mm].
    cases : tuple of Case
    remedies : Remedies or None
        For edges taken as simply supported; None where it passes as it is.
    """

    plate: Plate
    allowed_mpa: float
    most_mm: float
    cases: tuple[Case, ...]
    remedies: Remedies | None

    @property
    def passes(self) -> bool:
        """Whether it is stiff and strong however its edges are held."""
        return all(case.stiff and case.strong for case in self.cases)

    @property
    def too_flexible(self) -> bool:
        """Whether it leaves linear theory even with its edges clamped."""
        return any(not case.linear for case in self.cases if case.edges == "clamped")


def check_panel(plate: Plate, flexural_mpa: float, ply_mm: float, loads: Loads, limits: Limits) -> PanelCheck:
    """Check a flat panel, and find what would make it pass.

    Parameters
    ----------
    plate : Plate
    flexural_mpa : float
        Flexural strength of the laminate [N/mm^2].
    ply_mm : float
        Thickness of one more layer [mm].
    loads : Loads
    limits : Limits

    Returns
    -------
    PanelCheck
        Plate theory as ``plates`` names it; limits are common practice, no source.

    Raises
    ------
    OutOfRange
        For a panel, load or limit that cannot be worked with.
    """
    within("Flexural strength", flexural_mpa, "N/mm²", 1, 2000)
    within("Thickness of a layer", ply_mm, "mm", 0.05, 10)
    within("Factor on flexural strength", limits.safety.value, "", 1, 20)
    within("Span over deflection", limits.span_share.value, "", 10, 1000)
    allowed = flexural_mpa / limits.safety.value
    cases = tuple(_cases(plate, 0, allowed, loads, limits))
    fails = not all(case.stiff and case.strong for case in cases)
    remedies = _remedies(plate, ply_mm, allowed, loads, limits) if fails else None
    return PanelCheck(plate, allowed, _most_mm(plate, plate.thickness_mm, limits), cases, remedies)


def _most_mm(plate: Plate, deep_mm: float, limits: Limits) -> float:
    return min(deep_mm / 2, 1000 * plate.short_m / limits.span_share.value)


def _cases(
    plate: Plate, core_mm: float, allowed_mpa: float, loads: Loads, limits: Limits, edges: tuple[str, ...] = EDGES
) -> Iterator[Case]:
    """Every load and edge, of the skin as it is or split over a core."""
    deep_mm = plate.thickness_mm + core_mm
    most = _most_mm(plate, deep_mm, limits)
    for load in ("wind", "push"):
        for held in edges:
            bent = _cored(_bent(plate, load, loads, held), plate.thickness_mm, core_mm)
            linear = bent.deflection_mm <= deep_mm / 2
            yield Case(load, held, bent, linear, bent.deflection_mm <= most, bent.stress_mpa <= allowed_mpa)


def _bent(plate: Plate, load: str, loads: Loads, edges: str) -> Bent:
    if load == "wind":
        return under_pressure(plate, loads.wind.value, edges)
    return under_push(plate, loads.push.value, min(loads.palm.value, plate.short_m / 4), edges)


def _cored(bent: Bent, skin_mm: float, core_mm: float) -> Bent:
    """The same moments on the deeper section: stress by its outer fibre, deflection by its stiffness."""
    times = core_times(skin_mm, core_mm)
    return Bent(bent.stress_mpa * (skin_mm + core_mm) / skin_mm / times, bent.deflection_mm / times)


def _remedies(plate: Plate, ply_mm: float, allowed_mpa: float, loads: Loads, limits: Limits) -> Remedies:
    def passes(tried: Plate, core_mm: float = 0) -> bool:
        cases = _cases(tried, core_mm, allowed_mpa, loads, limits, ("supported",))
        return all(case.stiff and case.strong for case in cases)

    def thicker(more: int) -> Plate:
        return replace(plate, thickness_mm=plate.thickness_mm + more * ply_mm)

    plies = next((more for more in range(1, _MOST_PLIES + 1) if passes(thicker(more))), None)
    core = next((thick for thick in _CORES_MM if passes(plate, thick)), None)
    few = range(_MOST_PLIES_WITH + 1)
    tried = ((many, more) for more in few for many in range(1, _MOST_RIBS + 1))
    ribs = next(((many, more) for many, more in tried if passes(_between_ribs(thicker(more), many))), None)
    rises = ((rise, more) for more in few for rise in _crowns())
    crown = next(((rise, more) for rise, more in rises if passes(_crowned(thicker(more), rise))), None)
    return Remedies(
        plies=plies,
        plied_mm=thicker(plies).thickness_mm if plies else None,
        ribs=ribs[0] if ribs else None,
        rib_spacing_m=plate.short_m / (ribs[0] + 1) if ribs else None,
        rib_plies=ribs[1] if ribs else 0,
        core_mm=core,
        core_times=core_times(plate.thickness_mm, core) if core else None,
        crown_mm=1000 * crown[0] * plate.short_m if crown else None,
        crown_plies=crown[1] if crown else 0,
    )


def _between_ribs(plate: Plate, ribs: int) -> Plate:
    spacing = plate.short_m / (ribs + 1)
    return replace(plate, short_m=spacing)


def core_times(skin_mm: float, core_mm: float) -> float:
    """How many times as stiff a skin is in bending when it is split over a core.

    Parameters
    ----------
    skin_mm : float
        The skin whole [mm].
    core_mm : float
        The core between its halves [mm].

    Returns
    -------
    float
        ((t + c)³ − c³) / t³ [dimensionless]; closed form, the core's own stiffness and its shear left out.

    Raises
    ------
    OutOfRange
        For a skin that is none, or a core below nothing.
    """
    within("Thickness of the skin", skin_mm, "mm", 0.2, 200)
    within("Thickness of the core", core_mm, "mm", 0, 500)
    return ((skin_mm + core_mm) ** 3 - core_mm**3) / skin_mm**3


def crown_factor(rise: float) -> float:
    """How far a crown shortens the span that counts.

    Parameters
    ----------
    rise : float
        Crown over short side [dimensionless].

    Returns
    -------
    float
        1 below 0.03, then 1.1 − 3.33 of the rise, 0.5 above 0.18 [dimensionless].

    Raises
    ------
    OutOfRange
        For a crown below nothing or more than half round.

    References
    ----------
    ISO 12215-5:2008, curvature factor, seen as a third-party transcription.
    """
    within("Crown over the short side", rise, "", 0, 0.5)
    if rise < _LEAST_CROWN:
        return 1.0
    return _LEAST_FACTOR if rise > _MOST_CROWN else min(1.0, 1.1 - 3.33 * rise)


def _crowns() -> Iterator[float]:
    steps = ceil((_MOST_CROWN - _LEAST_CROWN) / 0.01)
    yield from (_LEAST_CROWN + 0.01 * step for step in range(steps + 1))


def _crowned(plate: Plate, rise: float) -> Plate:
    return replace(plate, short_m=plate.short_m * crown_factor(rise))
