"""Three commissions, each at another point of its life. Invented."""

PEAR = {
    "title": "The Long Pear",
    "commissioner": "Fallow Lane Market Garden",
    "contact": "R. Osei",
    "email": "gate@fallowlane.example",
    "address": "Fallow Lane\nEastmere EM9 2FL",
    "place": "At the garden's gate, on a concrete pad",
    "description": (
        "A pear 2.6 m tall, standing upright with its stalk and one leaf, "
        "to be seen from the road and touched by children."
    ),
    "colour": "RAL 1012 lemon yellow on the body, RAL 6011 reseda green on the leaf, RAL 8025 pale brown on the stalk",
    "model_revision": "Drawing LP-2, revision C",
}

# The side of the pear from the drawing: radius and height, in metres.
PEAR_SECTIONS = (
    {
        "name": "Base",
        "shape": "turned",
        "dimensions": {
            "profile": "0.32 0.00\n0.50 0.04\n0.63 0.13\n0.73 0.26\n0.79 0.40\n0.82 0.53\n0.825 0.60",
            "unit": "m",
        },
        "pieces": 3,
        "metal": "48 kg",
        "metal_height": "60 mm",
    },
    {
        "name": "Belly",
        "crated": False,
        "shape": "turned",
        "dimensions": {"profile": "0.825 0.60\n0.815 0.72\n0.78 0.85\n0.72 0.98\n0.65 1.10\n0.60 1.20", "unit": "m"},
        "pieces": 3,
    },
    {
        "name": "Shoulder",
        "shape": "turned",
        "dimensions": {"profile": "0.60 1.20\n0.55 1.32\n0.50 1.44\n0.455 1.58\n0.42 1.70\n0.39 1.80", "unit": "m"},
        "pieces": 2,
    },
    {
        "name": "Crown",
        "crated": False,
        "shape": "turned",
        "block": "1.2 m x 0.9 m x 0.2 m",
        "dimensions": {"profile": "0.39 1.80\n0.36 1.92\n0.31 2.03\n0.24 2.11\n0.16 2.16\n0.10 2.20", "unit": "m"},
        "pieces": 2,
    },
    {
        "name": "Stalk",
        "crated": False,
        "shape": "turned",
        "block": "0.45 m x 0.25 m x 0.25 m",
        "dimensions": {"profile": "0.10 0.00\n0.08 0.07\n0.07 0.20\n0.075 0.32\n0.10 0.40", "unit": "m"},
        "pieces": 2,
        "metal": "3 kg",
    },
    {
        "name": "Leaf",
        "shape": "ellipsoid",
        "block": "0.8 m x 0.35 m x 0.1 m",
        "dimensions": {"a": "38 cm", "b": "17 cm", "c": "5 cm"},
        "pieces": 2,
        "stand": "2.28 m",
        "offset": "0.42 m",
        "metal": "2 kg",
        "crated": False,
    },
)

# Item of the price book, what it is for, how much of it.
PEAR_EXTRAS = (
    ("engineer", "Engineer's letter for base and fixings", "1"),
    ("haulage", "Delivery to the garden", "1"),
    ("bench_hour", "Standing and fixing it in place, two people", "14"),
)

LANTERN = {
    "title": "Tide Lantern",
    "commissioner": "Eastmere Harbour Trust",
    "contact": "Odile Marsh",
    "email": "works@eastmereharbour.example",
    "address": "The Pilot House\nEastmere EM1 1EH",
    "place": "The end of the inner mole",
    "description": "A lamp-like figure 3.4 m tall: a foot, a waisted body and a rounded head with a lit collar.",
    "colour": "RAL 5001 green blue, RAL 9001 cream collar",
    "model_revision": "Maquette 1 : 10, third state",
}

# Where the model is parted [m], and its sections from the foot up, each with the pieces that its mould parts into.
LANTERN_CUTS_M = (0.75, 2.0, 2.31)
LANTERN_SECTIONS = (
    {"name": "Foot", "pieces": 2, "grade": "A", "metal": "60 kg", "metal_height": "50 mm"},
    {"name": "Body", "pieces": 2, "grade": "A"},
    {"name": "Collar", "pieces": 4, "grade": "A"},
    {"name": "Head", "pieces": 4, "grade": "A"},
)

LANTERN_EXTRAS = (
    ("engineer", "Engineer's letter for base and fixings", "1"),
    ("haulage", "Delivery to the mole", "1"),
    ("crane", "Crane on the mole", "1"),
    ("bench_hour", "Standing and fixing it in place, two people", "20"),
)

ACORNS = {
    "title": "Six Acorns",
    "commissioner": "Harrow Hill Parish",
    "contact": "Clerk to the parish",
    "email": "clerk@harrowhill.example",
    "address": "Parish Rooms\nHarrow Hill EM7 5HH",
    "place": "Play area by the oak, six resin-bound pads",
    "description": "Six acorns alike, 0.86 m tall, to sit beside and climb on.",
    "colour": "RAL 1011 brown beige nuts, RAL 8028 terra brown cups",
    "model_revision": "Drawing SA-1, revision B",
}

ACORN_SECTIONS = (
    {
        "name": "Nut",
        "shape": "turned",
        "dimensions": {
            "profile": "0.10 0.00\n0.20 0.02\n0.27 0.08\n0.31 0.17\n0.325 0.28\n0.32 0.40\n0.30 0.50\n0.28 0.56",
            "unit": "m",
        },
        "pieces": 2,
        "pulls": 6,
        "metal": "6 kg",
    },
    {
        "name": "Cup",
        "crated": False,
        "shape": "cap",
        "dimensions": {"sphere_diameter": "0.82 m", "height": "0.30 m"},
        "pieces": 1,
        "pulls": 6,
    },
)

ACORN_EXTRAS = (
    ("haulage", "Delivery to the play area", "1"),
    ("bench_hour", "Fixing six acorns to their pads", "18"),
)
