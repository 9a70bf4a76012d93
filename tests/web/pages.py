"""An answer's HTML as a person meets it: its addresses, and its forms with what stands in them."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urldefrag, urljoin

ADDRESSES = {"href", "src", "action", "hx-get", "hx-post", "data-view"}
TYPED = {"text", "search", "email", "tel", "url", "password", "number", "date", "textarea"}


@dataclass(slots=True)
class Field:
    """One control: its name, its kind, the value it would send, and how much it takes."""

    name: str
    kind: str
    value: str
    most: int = 0

    @property
    def is_typed(self) -> bool:
        """Whether a person types into it."""
        return self.kind in TYPED


@dataclass(slots=True)
class Form:
    """One form: where it goes, and its controls."""

    action: str
    method: str
    fields: list[Field] = field(default_factory=list)

    def __str__(self) -> str:
        return f"{self.method.upper()} {self.action}"

    def sent(self) -> dict[str, list[str]]:
        """What the browser would send if nothing were changed."""
        found: dict[str, list[str]] = {}
        for each in self.fields:
            if each.kind != "file":
                found.setdefault(each.name, []).append(each.value)
        return found

    def typed(self) -> list[str]:
        """The names of the fields that a person types into."""
        return list(dict.fromkeys(each.name for each in self.fields if each.is_typed))

    def kinds(self) -> list[Field]:
        """One field of each kind: of numbered rows, which are alike, the first row's."""
        found: dict[str, Field] = {}
        for each in self.fields:
            found.setdefault(re.sub(r"_\d+$", "", each.name), each)
        return list(found.values())


class Page(HTMLParser):
    """A page that has been read once, from top to bottom."""

    def __init__(self, text: str, address: str) -> None:
        super().__init__(convert_charrefs=True)
        self.address = address
        self.addresses: list[str] = []
        self.forms: list[Form] = []
        self._form: Form | None = None
        self._open: Field | None = None
        self._option: dict[str, str | None] | None = None
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        for name in ADDRESSES & given.keys():
            self._lead(given[name] or "")
        if tag == "form":
            action = urldefrag(urljoin(self.address, given.get("action") or ""))[0] or self.address
            self._form = Form(action, (given.get("method") or "get").lower())
            self.forms.append(self._form)
        elif self._form is not None:
            self._control(tag, given)

    def _lead(self, address: str) -> None:
        full = urldefrag(urljoin(self.address, address))[0]
        if full.startswith("/") and not full.startswith("//"):
            self.addresses.append(full)

    def _control(self, tag: str, given: dict[str, str | None]) -> None:
        name, kind, value = given.get("name"), given.get("type") or "text", given.get("value")
        if tag == "option":
            self._option = given
            if self._open and "selected" in given:
                self._open.value = value or ""
        if not name or self._form is None:
            return
        most = int(given.get("maxlength") or 0)
        if tag in ("textarea", "select"):
            self._open = Field(name, tag, "", most)
            self._form.fields.append(self._open)
        elif tag == "input" and (kind not in ("checkbox", "radio") or "checked" in given):
            self._form.fields.append(Field(name, kind, value or "", most))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._form = None
        elif tag in ("textarea", "select"):
            if self._open and tag == "textarea":
                # The first line break after the tag belongs to the markup.
                self._open.value = self._open.value.removeprefix("\n")
            self._open = None

    def handle_data(self, data: str) -> None:
        if self._open and self._open.kind == "textarea":
            self._open.value += data
