"""Templates as the rule tests see them: tags with attributes, and the words between."""

import re
from dataclasses import dataclass

CONSTRUCT = re.compile(r"\{%.*?%\}|\{\{.*?\}\}", re.DOTALL)
REMARK = re.compile(r"\{#.*?#\}|\{% comment\b.*?%\}.*?\{% endcomment %\}|<!--.*?-->", re.DOTALL)
TAG = re.compile(r"<(?P<name>[a-zA-Z][\w-]*)(?P<rest>(?:[^<>\"']|\"[^\"]*\"|'[^']*')*)>", re.DOTALL)
ATTRIBUTE = re.compile(r"(?P<name>[\w:@.-]+)(?:\s*=\s*(?P<value>\"[^\"]*\"|'[^']*'|[^\s\"'>]+))?", re.DOTALL)
# Signs of HTML that may stand inside {% … %} and {{ … }} change places with signs that stand nowhere.
HIDDEN = str.maketrans("<>\"'=", "\ue000\ue001\ue002\ue003\ue004")
SHOWN = {new: old for old, new in HIDDEN.items()}
SPOKEN = ("alt", "aria-label", "aria-description", "placeholder", "title", "content", "value")


@dataclass(frozen=True, slots=True)
class Tag:
    """One opening tag with its line and its attributes, values as written."""

    name: str
    line: int
    attributes: dict[str, str]


def masked(text: str) -> str:
    """The template without remarks, with constructs that cannot be taken for HTML."""
    without = REMARK.sub(lambda found: "\n" * found[0].count("\n"), text)
    return CONSTRUCT.sub(lambda found: found[0].translate(HIDDEN), without)


def tags(text: str) -> list[Tag]:
    """Every opening tag of a template."""
    source = masked(text)
    found = []
    for tag in TAG.finditer(source):
        outside = CONSTRUCT.sub(" ", tag["rest"])
        named = {attribute["name"].lower() for attribute in ATTRIBUTE.finditer(outside)}
        attributes = {
            attribute["name"].lower(): (attribute["value"] or "").strip("\"'").translate(SHOWN)
            for attribute in ATTRIBUTE.finditer(tag["rest"])
            if attribute["name"].lower() in named
        }
        found.append(Tag(tag["name"].lower(), source.count("\n", 0, tag.start()) + 1, attributes))
    return found


def words(text: str) -> str:
    """What a person reads or hears: the text between tags and the attributes that are spoken."""
    spoken = [value for tag in tags(text) for name, value in tag.attributes.items() if name in SPOKEN]
    between = re.sub(r"<[^>]*>", "\n", TAG.sub("\n", masked(text)))
    return CONSTRUCT.sub("…", "\n".join([between, *spoken]))
