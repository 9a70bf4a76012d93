"""The typeface, cut down from the installed package to what pages and documents use.

A bare machine has no fonts, and a document must carry its own; no font file is
kept in this repository.
"""

from pathlib import Path

WEIGHTS = {"Regular": 400, "It": 400, "Semibold": 600, "Bold": 700}

# Latin with accents, punctuation, primes, fractions, superscripts, arrows, the signs of drawings and of workings.
CHARACTERS = [
    *range(0x20, 0x7F), *range(0xA0, 0x180), 0x2009, 0x200A, 0x202F, *range(0x2010, 0x2016),
    *range(0x2018, 0x2020), 0x2022, 0x2026, 0x2032, 0x2033, 0x20AC, 0x2116, 0x2122, *range(0x2150, 0x215F),
    *range(0x2190, 0x2194), 0x2205, 0x2212, 0x2215, 0x221A, 0x221E, 0x2248, 0x2260, 0x2264, 0x2265,
    *range(0x2070, 0x208F), 0x3BC, 0x3C0, 0x2713,
]  # fmt: skip


def build_fonts(target: Path) -> list[Path]:
    """Write one WOFF2 a weight into ``target``; files already there are kept. Returns the files."""
    import font_source_sans_pro
    from fontTools import subset

    target.mkdir(parents=True, exist_ok=True)
    source = Path(font_source_sans_pro.__file__).parent / "files"
    made = []
    for weight in WEIGHTS:
        path = target / f"SourceSansPro-{weight}.woff2"
        made.append(path)
        if path.exists():
            continue
        options = subset.Options()
        options.flavor = "woff2"
        options.layout_features = ["*"]
        font = subset.load_font(str(source / f"SourceSansPro-{weight}.ttf"), options)
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=CHARACTERS)
        cutter.subset(font)
        half_made = path.with_suffix(".part")
        subset.save_font(font, str(half_made), options)
        half_made.rename(path)
    return made
