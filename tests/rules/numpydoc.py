"""Docstrings in sections, as far as the rule tests read them."""

import re
from dataclasses import dataclass

SECTIONS = ("Parameters", "Attributes", "Returns", "Yields", "Raises", "Notes", "References", "Examples", "See Also")
ENTRY = re.compile(r"\*{0,2}\w+(?:, \*{0,2}\w+)*(?= *:|$)")
# A unit stands in brackets of its own, after a blank or an opening parenthesis; [1]_ is a reference.
BRACKET = re.compile(r"(?<![^\s(])\[(?![0-9]+\])([^\[\],'\"_]+)\]")


@dataclass(frozen=True, slots=True)
class Entry:
    """One or several names that a section describes together, with the whole description."""

    names: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Docstring:
    """A docstring's sections by name; what stands before the first one is under ""."""

    sections: dict[str, str]

    @property
    def text(self) -> str:
        return "\n".join(self.sections.values())

    def entries(self, section: str) -> list[Entry]:
        """The names of a Parameters, Attributes or Raises section with what is said of each."""
        found: list[tuple[str, list[str]]] = []
        for line in self.sections.get(section, "").splitlines():
            if line and not line[0].isspace() and ENTRY.match(line):
                found.append((line, []))
            elif found:
                found[-1][1].append(line)
        return [
            Entry(
                tuple(name.strip().lstrip("*") for name in head.partition(":")[0].split(",")), "\n".join([head, *rest])
            )
            for head, rest in found
        ]

    def units(self) -> list[str]:
        """Everything in brackets that is meant as a unit."""
        return BRACKET.findall(self.text)


def read(text: str) -> Docstring:
    """Split a cleaned docstring at its underlined headings."""
    sections: dict[str, list[str]] = {"": []}
    current = ""
    lines = text.splitlines()
    for index, line in enumerate(lines):
        following = lines[index + 1] if index + 1 < len(lines) else ""
        if line in SECTIONS and re.fullmatch(r"-{3,}", following):
            current = line
            sections[current] = []
        elif not re.fullmatch(r"-{3,}", line):
            sections[current].append(line)
    return Docstring({name: "\n".join(body) for name, body in sections.items()})
