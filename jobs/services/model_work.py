"""What the worker does to a model: read it, stand it up, and work out whatever is not known of it yet."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from jobs.models import CommissionModel
from jobs.services.model_figures import cut_data, figures_data, mirror_data, thinned_for_looks, view_of, whole_data
from materials.estimator.errors import EstimatorError
from materials.mesh.cutting import cut
from materials.mesh.loading import Loaded, stand_up
from materials.mesh.measuring import measure
from materials.mesh.planes import Plane
from materials.mesh.reading import Model, read_model
from materials.mesh.suggesting import Fit, suggest_planes
from materials.mesh.triangles import Mesh, extremes
from materials.units import parse
from studio.tasks.models import Work
from studio.tasks.reporting import Cancelled, Failed, Report


def bring_up_to_date(work: Work, report: Report) -> Mapping[str, Any]:
    """Handler of the kind "model"."""
    model = (
        CommissionModel.objects.select_related("file")
        .filter(pk=work.about["model"], version=work.about["version"])
        .first()
    )
    if model is None:
        # Removed or changed since: the change has asked for work of its own.
        raise Cancelled
    try:
        return _Job(model, report).done()
    except EstimatorError as error:
        raise Failed(str(error)) from error


@dataclass
class _Job:
    """One attempt at one model. Times are guesses from the file's size; they only move the bar."""

    model: CommissionModel
    report: Report
    found: dict[str, Any] = field(default_factory=dict)

    def done(self) -> Mapping[str, Any]:
        """Work out what is missing, and keep it in one go."""
        read = self._read()
        self.found["raw"] = _raw(read)
        if not (self.model.unit or self.model.height or read.unit):
            self.report(99, "Keeping what was found")
            return self._keep("size wanted")
        loaded = self._stand(read)
        mesh = loaded.tidied.mesh
        self.report(40, "Thinning it for what is looked at", until=46, seconds=self._seconds(0.06))
        thinned = thinned_for_looks(mesh)
        figures = self.model.figures or self._measure(loaded, thinned)
        self._cut(mesh, thinned, figures)
        self._suggest(mesh)
        self.report(99, "Keeping what was found")
        return self._keep("measured")

    def _seconds(self, a_megabyte: float) -> float:
        return 1 + a_megabyte * self.model.file.size / 1e6

    def _read(self) -> Model:
        self.report(2, "Reading the file", until=25, seconds=self._seconds(0.1))
        return read_model(self.model.file.path, self.model.file_name)

    def _stand(self, read: Model) -> Loaded:
        model = self.model
        self.report(25, "Standing it up and looking for faults", until=40, seconds=self._seconds(0.1))
        return stand_up(
            read,
            up=model.up or None,
            unit=model.unit or None,
            finished_height_m=parse(model.height, "length", "finished height") if model.height else None,
            close_holes_m=parse(model.holes, "length", "holes to close") if model.holes else None,
        )

    def _measure(self, loaded: Loaded, thinned: Mesh) -> dict[str, Any]:
        self.report(46, "Measuring area, volume and balance", until=56, seconds=self._seconds(0.1))
        measured = measure(loaded.tidied)
        self.report(56, "Drawing it and looking for flat parts", until=66, seconds=self._seconds(0.04) + 2)
        figures = figures_data(measured, loaded.tidied.mesh, thinned, loaded.notes)
        self.report(66, "Comparing left and right", until=75, seconds=8)
        figures["mirror"] = mirror_data(thinned)
        self.found["figures"] = figures
        return figures

    def _cut(self, mesh: Mesh, thinned: Mesh, figures: Mapping[str, Any]) -> None:
        if self.model.cut:
            return
        planes: dict[str, tuple[Plane, ...]] = {}
        for row in self.model.planes.all():
            x, y, z = row.normal
            planes[row.section] = (*planes.get(row.section, ()), Plane((x, y, z), row.offset_m))
        whole = planes.pop("", ())
        self.report(75, "Cutting it" if planes or whole else "Drawing it", until=95, seconds=self._seconds(0.1) + 2)
        meshes = [thinned]
        try:
            if whole:
                made = cut(mesh, whole)
                self.report(82, "Drawing its sections", until=95, seconds=self._seconds(0.1) + len(made.sections))
                self.found["cut"] = cut_data(made, planes)
                meshes = [section.mesh for section in made.sections]
            else:
                self.found["cut"] = whole_data(mesh, figures, planes.get("1", ()))
            self.found["cut_problem"] = ""
        except EstimatorError as error:
            # The figures of the whole hold all the same.
            self.found["cut_problem"] = str(error)
        self.report(95, "Preparing the view that turns", until=98, seconds=self._seconds(0.05))
        self.found["preview"], self.found["preview_parts"] = view_of(meshes)

    def _suggest(self, mesh: Mesh) -> None:
        wanted = self.model.suggested.get("wanted")
        if not wanted or "planes" in self.model.suggested:
            return
        self.report(80, "Looking for planes", until=98, seconds=10)
        box = wanted.get("box_m")
        fit = Fit(tuple(box) if box else None, wanted.get("mass_kg"), wanted.get("skin_kg_m2"))
        answer: dict[str, Any] = {**self.model.suggested, "planes": [], "problem": ""}
        try:
            found = suggest_planes(mesh, fit)
            answer["planes"] = [
                {"normal": list(plane.normal), "offset_m": plane.offset_m, "words": plane.words} for plane in found
            ]
        except EstimatorError as error:
            answer["problem"] = str(error)
        self.found["suggested"] = answer

    @transaction.atomic
    def _keep(self, outcome: str) -> Mapping[str, Any]:
        self.report.check()
        rows = CommissionModel.objects.filter(pk=self.model.pk, version=self.model.version)
        if not rows.update(**self.found):
            raise Cancelled
        return {"outcome": outcome}


def _raw(model: Model) -> dict[str, Any]:
    low, high = extremes(model.points)
    return {
        "extents": [float(side) for side in high - low],
        "unit": model.unit,
        "up": model.up,
        "triangles": model.triangles,
    }
