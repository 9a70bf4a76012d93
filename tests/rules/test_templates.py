"""Templates hold no script, no style and no arithmetic, and trust nothing that a person typed."""

import re
from collections.abc import Callable

import pytest

from tests.rules.markup import CONSTRUCT, Tag, masked, tags
from tests.rules.tree import ROOT, templates

PAGES = [path for path in templates() if path.suffix == ".html"]
# Arithmetic, and formatting that knows nothing of units and currencies.
FOREIGN_FILTERS = re.compile(r"\|\s*(safe|safeseq|floatformat|intcomma|stringformat|add|divisibleby|unlocalize)\b")
FOREIGN_TAGS = re.compile(r"\{%\s*(autoescape\s+off|widthratio)\b")
# In an attribute that htmx acts on stands nothing but addresses, keys and the anti-forgery token.
TRUSTED = re.compile(
    r"\{%\s*(url|static|if|elif|else|endif)\b.*%\}|\{\{\s*(csrf_token|[\w.]*\b(pk|id))\s*\}\}", re.DOTALL
)


def scripted(tag: Tag) -> str | None:
    if tag.name == "style" or "style" in tag.attributes:
        return "holds style; give it a class"
    if tag.name == "script" and not tag.attributes.get("src") and tag.attributes.get("type") != "application/json":
        return "holds script; move it to static/js"
    listening = [name for name in tag.attributes if re.match(r"on[a-z]+$|hx-on|data-hx-on|@", name)]
    if listening:
        return f"acts by {', '.join(listening)}; listen in static/js"
    if any(value.strip().lower().startswith(("javascript:", "js:")) for value in tag.attributes.values()):
        return "holds script in an attribute"
    return None


def untrusted(tag: Tag) -> str | None:
    for name, value in tag.attributes.items():
        if name.startswith(("hx-", "data-hx-")):
            loose = [found for found in CONSTRUCT.findall(value) if not TRUSTED.fullmatch(found)]
            if loose:
                return f"puts {loose[0]} into {name}"
    return None


def foreign(tag: Tag) -> str | None:
    address = tag.attributes.get("src", "") if tag.name != "link" else tag.attributes.get("href", "")
    return f"fetches {address} from another machine" if re.match(r"(?:https?:)?//", address) else None


def unspoken(tag: Tag) -> str | None:
    if tag.name == "img" and "alt" not in tag.attributes:
        return "a picture without alt"
    if tag.name == "svg" and tag.attributes.get("role") != "img" and tag.attributes.get("aria-hidden") != "true":
        return 'a drawing without role="img" and a title, or aria-hidden'
    return None


CHECKS: list[Callable[[Tag], str | None]] = [scripted, untrusted, foreign, unspoken]


@pytest.mark.parametrize(
    ("markup", "check"),
    [
        ('<p style="color:red">', scripted),
        ("<style>p{}</style>", scripted),
        ("<script>go()</script>", scripted),
        ('<button type="button" onclick="go()">', scripted),
        ('<button hx-on:click="go()">', scripted),
        ("<p hx-vals='js:{a: b}'>", scripted),
        ('<a href="javascript:go()">', scripted),
        ('<p hx-get="/look?for={{ commission.title }}">', untrusted),
        ('<p hx-vals=\'{"note": "{{ note }}"}\'>', untrusted),
        ('<script src="https://elsewhere.example/a.js">', foreign),
        ('<link rel="stylesheet" href="//elsewhere.example/a.css">', foreign),
        ('<img src="a.png">', unspoken),
        ("<svg viewBox='0 0 1 1'>", unspoken),
    ],
)
def test_a_fault_is_seen(markup: str, check: Callable[[Tag], str | None]) -> None:
    assert check(tags(markup)[0])


@pytest.mark.parametrize(
    "markup",
    [
        '<p class="on" data-style="x">',
        "<script src=\"{% static 'js/pages.js' %}\" defer></script>",
        '<form hx-post="{% url \'log_hours\' section.pk %}" hx-target="#row-{{ row.pk }}">',
        """<body hx-headers='{"X-CSRFToken": "{{ csrf_token }}"}'>""",
        '<img src="{{ photo.url }}" alt="{{ photo.caption }}">',
        '<a href="https://elsewhere.example/">',
        '<option value="1"{% if a > b and c == "x" %} selected{% endif %}>',
        "{# <p style='x'> #}<p>",
    ],
)
def test_what_is_in_order_is_left_alone(markup: str) -> None:
    found = tags(markup)
    assert len(found) == 1
    assert [check(found[0]) for check in CHECKS] == [None] * len(CHECKS)


@pytest.mark.parametrize("check", CHECKS)
def test_no_tag_is_at_fault(check: Callable[[Tag], str | None]) -> None:
    assert PAGES
    faults = [
        f"{path.relative_to(ROOT)}:{tag.line}: <{tag.name}> {reason}"
        for path in PAGES
        for tag in tags(path.read_text(encoding="utf-8"))
        if (reason := check(tag))
    ]
    assert not faults, "\n" + "\n".join(faults)


def test_numbers_pass_through_formatting_filters_only() -> None:
    faults = [
        f"{path.relative_to(ROOT)}: {found[0].strip()}"
        for path in templates()
        for found in [
            *FOREIGN_FILTERS.finditer(path.read_text(encoding="utf-8")),
            *FOREIGN_TAGS.finditer(path.read_text(encoding="utf-8")),
        ]
    ]
    assert not faults, "\n" + "\n".join(faults)


def test_every_form_that_posts_carries_the_token() -> None:
    forms = [
        (path, form)
        for path in PAGES
        for form in re.findall(r"<form\b.*?</form>", masked(path.read_text(encoding="utf-8")), re.DOTALL)
        if tags(form)[0].attributes.get("method", "").lower() == "post"
    ]
    assert forms
    faults = [f"{path.relative_to(ROOT)}: {form[:80]}" for path, form in forms if "{% csrf_token %}" not in form]
    assert not faults, "\n" + "\n".join(faults)
