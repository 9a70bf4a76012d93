"""One cast of people and things for every test; each function makes one row with sensible values."""

from typing import Any

from jobs.models import Commission, Section
from jobs.queries import folded
from studio.accounts.models import Role, User
from studio.office.models import TaxCategory

PASSWORD = "four unrelated garden words"
_PEOPLE = {Role.OWNER: "Maud Ellery", Role.OFFICE: "Tam Okoro", Role.BENCH: "Ines Varga"}


def make_person(role: str = Role.OWNER, **values: Any) -> User:
    """Somebody of that role: Maud owns the studio, Tam keeps the office, Ines is at the bench."""
    name = values.pop("shown_name", _PEOPLE[Role(role)])
    username = values.pop("username", name.split()[0].lower())
    return User.objects.create_user(username=username, password=PASSWORD, role=role, shown_name=name, **values)


def make_commission(title: str = "The Long Pear", **values: Any) -> Commission:
    """A commission of the market garden's."""
    number = values.pop("number", f"26-{Commission.objects.count() + 1:03d}")
    commission = Commission(
        number=number,
        title=title,
        commissioner=values.pop("commissioner", "Fallow Lane Market Garden"),
        tax_category=values.pop("tax_category", None) or TaxCategory.objects.earliest("position"),
        **values,
    )
    commission.search_text = folded(f"{number} {title} {commission.commissioner} {commission.place}")
    commission.save()
    return commission


def make_section(commission: Commission, name: str = "Base", **values: Any) -> Section:
    """A frustum 0.9 m high, in two pieces."""
    return Section.objects.create(
        commission=commission,
        name=name,
        position=values.pop("position", commission.sections.count() + 1),
        shape=values.pop("shape", "frustum"),
        dimensions=values.pop(
            "dimensions", {"bottom_diameter": "0.9 m", "top_diameter": "1.5 m", "height": "0.9 m"}
        ),
        **values,
    )
