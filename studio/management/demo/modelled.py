"""The Tide Lantern priced from its model: sent in, measured, parted, and made into sections."""

from jobs.models import Commission, CommissionModel, PlaneKind
from jobs.services.model_sections import sections_of, use_sections
from jobs.services.models import add_model, add_planes
from jobs.services.sections import change_section
from materials.mesh.planes import plane_at
from studio.accounts.models import User
from studio.management.demo.commissions import LANTERN_CUTS_M, LANTERN_SECTIONS
from studio.management.demo.lantern import lantern_stl
from studio.tasks.running import perform

_ACROSS = {2: ("x",), 4: ("x", "y")}


def price_from_model(by: User, commission: Commission) -> None:
    """What a worker would do later is done at once, so that the demo is whole when it opens."""
    standing = {"unit": "mm", "height": "3.4 m", "up": "z", "holes": ""}
    model = add_model(
        by=by,
        commission=commission,
        name="Tide Lantern",
        file_name="tide-lantern-third-state.stl",
        chunks=[lantern_stl()],
        standing=standing,
    )
    _part(by, model, "", [("z", height) for height in LANTERN_CUTS_M])
    for number, section in enumerate(LANTERN_SECTIONS, start=1):
        _part(by, model, str(number), [(axis, 0.0) for axis in _ACROSS[int(str(section["pieces"]))]])
    _work(model)
    parts = {str(number): str(section["name"]) for number, section in enumerate(LANTERN_SECTIONS, start=1)}
    use_sections(by=by, model=model, names=parts)
    made = sections_of(model)
    for number, section in enumerate(LANTERN_SECTIONS, start=1):
        change_section(by=by, section=made[str(number)], version=made[str(number)].version, values=dict(section))


def _part(by: User, model: CommissionModel, section: str, places: list[tuple[str, float]]) -> None:
    planes = [(PlaneKind.AXIS, f"{axis} at {at:g} m", plane_at(axis, at)) for axis, at in places]
    add_planes(by=by, model=model, section=section, planes=planes)


def _work(model: CommissionModel) -> None:
    if model.work is not None:
        perform(model.work.pk)
    model.refresh_from_db()
    if model.cut_problem or not model.cut:
        raise RuntimeError(f"The demo cannot cut {model}: {model.cut_problem or model.work}")
