"""A take-off for scripts and for a plain screen."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any, TypeVar

from materials.estimator.catalogue import STEPS, entry_of
from materials.estimator.lines import HourLine, Line, SectionFigures, TakeOff
from materials.estimator.spec import JobSpec
from materials.units import display_quantity

_Row = tuple[str, ...]
_L = TypeVar("_L", Line, HourLine)


def as_data(take_off: TakeOff, job: JobSpec) -> dict[str, Any]:
    """The take-off of a job as JSON carries it: every number at full precision, every line with its working."""
    centres = {section.name: section.form.centre_of_mass_m for section in job.sections}
    return {
        "name": take_off.name,
        "sections": [
            _section_data(section) | {"centre_of_mass_m": centres[section.name]} for section in take_off.sections
        ],
        "lines": [_line_data(line) for line in take_off.lines],
        "hours": [
            {
                "section": line.section,
                "stage": line.stage,
                "step": line.step,
                "low": line.low,
                "likely": line.likely,
                "high": line.high,
            }
            for line in take_off.hours
        ],
        "warnings": [{"section": each.section, "code": each.code, "text": each.text} for each in take_off.warnings],
    }


def _section_data(section: SectionFigures) -> dict[str, Any]:
    return {
        "name": section.name,
        "area_m2": section.area_m2,
        "volume_m3": section.volume_m3,
        "seam_m": section.seam_m,
        "extents_m": [section.length_m, section.width_m, section.height_m],
        "patterns": section.patterns,
        "moulds": section.moulds,
        "casts": section.casts,
        "pattern": {
            "blocks": section.pattern.blocks,
            "bought_m3": section.pattern.bought_m3,
            "solid_m3": section.pattern.solid_m3,
            "yield": section.pattern.yield_fraction,
            "foam_kg": section.pattern.foam_kg,
            "mass_kg": section.pattern.mass_kg,
        },
        "mould": {
            "area_m2": section.mould.area_m2,
            "mass_kg": section.mould.mass_kg,
            "piece_mass_kg": section.mould.piece_mass_kg,
            "bolts": section.mould.bolts,
            "pieces": section.mould.pieces,
        },
        "cast": {"thickness_mm": section.cast.thickness_mm, "mass_kg": section.cast.mass_kg},
    }


def _line_data(line: Line) -> dict[str, Any]:
    return {
        "section": line.section,
        "stage": line.stage,
        "material": line.material,
        "net": line.net,
        "buy": line.buy,
        "unit": line.unit,
        "formula": line.formula,
        "working": [
            {"label": term.label, "value": term.value, "unit": term.unit, "origin": term.origin} for term in line.terms
        ],
    }


def as_text(take_off: TakeOff) -> str:
    """The take-off as a person reads it on a plain screen."""
    parts = [take_off.name, "=" * len(take_off.name)]
    lines, hours = _by_section(take_off.lines), _by_section(take_off.hours)
    for section in take_off.sections:
        parts += ["", section.name, "-" * len(section.name), *_measures(section)]
        parts += ["", *_table([("Material", "net", "to buy", ""), *_line_rows(lines.get(section.name, []))])]
        parts += ["", *_table([("Hours", "low", "likely", "high"), *_hour_rows(hours.get(section.name, []))])]
    parts += ["", *_table([("All hours", "low", "likely", "high"), _hours_row("Together", take_off.hours)])]
    if take_off.warnings:
        parts += ["", "Cautions", "--------", *(f"{each.section}: {each.text}" for each in take_off.warnings)]
    return "\n".join(parts)


def _by_section(lines: Iterable[_L]) -> dict[str, list[_L]]:
    found: dict[str, list[_L]] = {}
    for line in lines:
        found.setdefault(line.section, []).append(line)
    return found


def _measures(section: SectionFigures) -> list[str]:
    size = " × ".join(_figure(side, "m") for side in (section.length_m, section.width_m, section.height_m))
    volume = "not known" if section.volume_m3 is None else _figure(section.volume_m3, "m3")
    pattern, mould, cast = section.pattern, section.mould, section.cast
    return _table(
        [
            ("Extents", size),
            ("Skin, volume", f"{_figure(section.area_m2, 'm2')}, {volume}"),
            ("Seam", _figure(section.seam_m, "m")),
            ("Made", f"patterns {section.patterns}, moulds {section.moulds}, casts {section.casts}"),
            ("A pattern", f"{pattern.blocks} blocks of foam, {_figure(pattern.mass_kg, 'kg')}"),
            (
                "A mould",
                f"{_figure(mould.mass_kg, 'kg')} in {mould.pieces} pieces of "
                f"{_figure(mould.piece_mass_kg, 'kg')}, {mould.bolts} bolts",
            ),
            ("A cast", f"{_figure(cast.thickness_mm, 'mm')} thick, {_figure(cast.mass_kg, 'kg')}"),
        ],
        numbers=False,
    )


def _line_rows(lines: Iterable[Line]) -> Iterable[_Row]:
    for stage, group in groupby(lines, key=lambda line: line.stage):
        yield (stage.capitalize(), "", "", "")
        for line in group:
            net, _ = display_quantity(line.net, line.unit, "metric")
            buy, unit = display_quantity(line.buy, line.unit, "metric")
            yield (f"  {entry_of(line.material).name}", net, buy, unit)


def _hour_rows(hours: Iterable[HourLine]) -> Iterable[_Row]:
    for stage, group in groupby(hours, key=lambda line: line.stage):
        yield (stage.capitalize(), "", "", "")
        for line in group:
            yield _hours_row(f"  {STEPS[stage][line.step]}", [line])


def _hours_row(label: str, hours: Sequence[HourLine]) -> _Row:
    sums = (sum(line.low for line in hours), sum(line.likely for line in hours), sum(line.high for line in hours))
    return (label, *(f"{hours:.1f}" for hours in sums))


def _figure(value: float, unit: str) -> str:
    return " ".join(display_quantity(value, unit, "metric"))


def _table(rows: Sequence[_Row], *, numbers: bool = True) -> list[str]:
    """Rows in columns: the first to the left, numbers to the right."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = []
    for first, *rest in rows:
        cells = [first.ljust(widths[0])]
        cells += [cell.rjust(width) if numbers else cell for cell, width in zip(rest, widths[1:], strict=True)]
        lines.append("  ".join(cells).rstrip())
    return lines
