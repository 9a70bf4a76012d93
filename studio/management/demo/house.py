"""Saltgate Yard and who works there. Invented; any likeness is chance."""

from studio.accounts.models import Role

PASSWORD = "four salty garden words"  # noqa: S105 - printed for everybody to use

HOUSE = {
    "name": "Saltgate Yard",
    "address": "Unit 3, The Old Ropewalk\nSaltgate Lane\nEastmere EM4 0SY",
    "email": "office@saltgate.example",
    "phone": "01632 960 144",
    "registration": "Saltgate Yard Ltd, demo company, no registration",
    "bench_crew": 3,
    "is_demo": True,
}

# Sign-in name, shown name, role.
PEOPLE = (
    ("maud", "Maud Ellery", Role.OWNER),
    ("tam", "Tam Okoro", Role.OFFICE),
    ("ines", "Ines Varga", Role.BENCH),
    ("jory", "Jory Penhale", Role.BENCH),
    ("senka", "Senka Dole", Role.BENCH),
    ("bram", "Bram Alder", Role.BENCH),
)
