"""Quantities as people type and read them: every factor, every form, and nothing guessed."""

import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.errors import EstimatorError, OutOfRange, UnknownChoice
from materials.units import (
    QuantityError,
    convert,
    display_quantity,
    format_number,
    format_quantity,
    parse,
    unit_label,
    unit_text,
)
from materials.units.kinds import KINDS

ROOT = Path(__file__).parents[2]
laws = settings(derandomize=True, deadline=None)

# The international yard and pound of 1959, the gallon of 231 cubic inches, the imperial gallon of 4.546 09 l.
INCH, POUND = Fraction("0.0254"), Fraction("0.45359237")
# Standard gravity of 1901, by which a pound weighs a pound-force.
GRAVITY = Fraction("9.80665")
FOOT, YARD, OUNCE, GALLON = 12 * INCH, 36 * INCH, POUND / 16, 231 * INCH**3
BY_DEFINITION = {
    "length": {"mm": Fraction(1, 1000), "cm": Fraction(1, 100), "m": 1, "in": INCH, "ft": FOOT, "yd": YARD},
    "area": {"cm2": Fraction(1, 10**4), "m²": 1, "sq in": INCH**2, "sq ft": FOOT**2, "sq yd": YARD**2},
    "volume": {
        "m3": 1,
        "cm³": Fraction(1, 10**6),
        "l": Fraction(1, 1000),
        "ml": Fraction(1, 10**6),
        "US gal": GALLON,
        "US qt": GALLON / 4,
        "US fl oz": GALLON / 128,
        "imp gal": Fraction("0.00454609"),
        "cu ft": FOOT**3,
    },
    "mass": {"g": Fraction(1, 1000), "kg": 1, "t": 1000, "lb": POUND, "oz": OUNCE},
    "areal_mass": {
        "g/m²": Fraction(1, 1000),
        "gsm": Fraction(1, 1000),
        "kg/m2": 1,
        "oz/ft^2": OUNCE / FOOT**2,
        "oz/yd^2": OUNCE / YARD**2,
        "lb/ft2": POUND / FOOT**2,
    },
    "film": {"um": 1, "µm": 1, "mm": 1000, "mil": INCH * 1000},
    "density": {"kg/m3": 1, "g/cm3": 1000, "kg/l": 1000, "lb/ft3": POUND / FOOT**3},
    "force": {"N": 1, "kN": 1000, "lbf": POUND * GRAVITY},
    "pressure": {
        "Pa": 1,
        "kPa": 1000,
        "N/mm2": 10**6,
        "psf": POUND * GRAVITY / FOOT**2,
        "psi": POUND * GRAVITY / INCH**2,
    },
    "time_hours": {"h": 1, "min": Fraction(1, 60)},
}
FACTORS = [(kind, unit, factor) for kind, units in BY_DEFINITION.items() for unit, factor in units.items()]


@pytest.mark.parametrize(("kind", "unit", "factor"), FACTORS, ids=[f"{kind} {unit}" for kind, unit, _ in FACTORS])
def test_every_unit_has_the_factor_of_its_definition(kind, unit, factor):
    assert parse(f"3 {unit}", kind) == pytest.approx(float(3 * factor), rel=1e-15)


def test_every_unit_is_checked_by_its_definition():
    checked = {(kind, KINDS[kind].units[_plain(unit)]) for kind, unit, _ in FACTORS}
    assert {(kind, unit) for kind, rule in KINDS.items() for unit in rule.units.values()} == checked


def _plain(unit):
    return unit.casefold().replace("²", "2").replace("³", "3").replace("^", "")


def test_every_spelling_measures_what_its_kind_measures():
    registry = pint.UnitRegistry()
    for rule in KINDS.values():
        base = registry.Unit(rule.units[_plain(rule.base)])
        assert all(registry.Unit(unit).is_compatible_with(base) for unit in rule.units.values())


@pytest.mark.parametrize(
    ("typed", "kind", "value"),
    [
        ("2.6 m", "length", 2.6),
        ("2,6 m", "length", 2.6),
        ("2.6m", "length", 2.6),
        (" 2.6  M ", "length", 2.6),
        (".5 m", "length", 0.5),
        ("0,500 m", "length", 0.5),
        ("1234,567 mm", "length", 1.234567),
        ("2600 mm", "length", 2.6),
        ("2 600 mm", "length", 2.6),
        ("2\u2009600 mm", "length", 2.6),
        ("2\u00a0600\u202fmm", "length", 2.6),
        ("2 600,5 mm", "length", 2.6005),
        ("1,200.5 mm", "length", 1.2005),
        ("1.200,5 mm", "length", 1.2005),
        ("1.000,50 cm", "length", 10.005),
        ("260 cm", "length", 2.6),
        ("102 in", "length", 2.5908),
        ("118 inches", "length", 2.9972),
        ("8 ft 6 in", "length", 2.5908),
        ("8ft6in", "length", 2.5908),
        ("8 feet 6 inches", "length", 2.5908),
        ("8'6\"", "length", 2.5908),
        ("8'6", "length", 2.5908),
        ("8' 6 1/2\"", "length", 2.6035),
        ("8'-6½\"", "length", 2.6035),
        ("8′6″", "length", 2.5908),
        ("8’ 6”", "length", 2.5908),
        ("8 ft", "length", 2.4384),
        ("8'", "length", 2.4384),
        ('6"', "length", 0.1524),
        ("1 1/2 in", "length", 0.0381),
        ("1-1/2 in", "length", 0.0381),
        ("1½ in", "length", 0.0381),
        ("½ in", "length", 0.0127),
        ("5/8 in", "length", 0.015875),
        ("3.2 m2", "area", 3.2),
        ("1.2 m²", "area", 1.2),
        ("1.2 m^2", "area", 1.2),
        ("34 sq ft", "area", 3.15870336),
        ("12 l", "volume", 0.012),
        ("12 L", "volume", 0.012),
        ("0.5 m3", "volume", 0.5),
        ("35 kg", "mass", 35.0),
        ("80 lb", "mass", 36.2873896),
        ("450 gsm", "areal_mass", 0.45),
        ("450 g / m²", "areal_mass", 0.45),
        ("1.5 oz/ft^2", "areal_mass", 0.457727590910911),
        ("18 oz/yd^2", "areal_mass", 0.610303454547881),
        ("50 µm", "film", 50.0),
        ("50 μm", "film", 50.0),
        ("2 mil", "film", 50.8),
        ("35 kg/m3", "density", 35.0),
        ("1.5 h", "time_hours", 1.5),
        ("1 h 30 min", "time_hours", 1.5),
        ("1h30", "time_hours", 1.5),
    ],
)
def test_it_reads_a_quantity_as_people_type_it(typed, kind, value):
    assert parse(typed, kind) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("typed", "kind", "sentence"),
    [
        ("", "length", "Height is empty; type a length such as 2.6 m."),
        ("2.6", "length", "Height “2.6” has no unit; add mm, cm, m, in or ft, such as 2.6 m."),
        ("1,200 mm", "length", "Height “1,200” can be read two ways; type 1200 or 1.2, whichever is meant."),
        ("1e5 m", "length", "Height “1e5 m” has an exponent; write the number out in full."),
        ("-2 m", "length", "Height “-2 m” begins with a sign, and none is needed; type a length such as 2.6 m."),
        ("−2 m", "length", "Height “−2 m” begins with a sign, and none is needed; type a length such as 2.6 m."),
        ("２.6 m", "length", "Height “２.6 m” has figures other than 0 to 9; type a length such as 2.6 m."),
        ("٢ m", "length", "Height “٢ m” has figures other than 0 to 9; type a length such as 2.6 m."),
        ("nan m", "length", "Height “nan m” is not a length; type a number and a unit, such as 2.6 m."),
        ("inf m", "length", "Height “inf m” is not a length; type a number and a unit, such as 2.6 m."),
        ("1..5 m", "length", "Height “1..5” is not a number; type a length such as 2.6 m."),
        ("1 1/0 in", "length", "Height “1 1/0” is not a number; type a length such as 2.6 m."),
        ("1 3/2 in", "length", "Height “1 3/2” is not a number; type a length such as 2.6 m."),
        ("2 60 mm", "length", "Height “2 60” is not a number; type a length such as 2.6 m."),
        ("2.6 kg", "length", "Height “2.6 kg” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("8 ft 6", "length", "Height “8 ft 6” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("8 ft2", "length", "Height “8 ft2” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("9**9**9", "length", "Height “9**9**9” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("1 m; 2", "length", "Height “1 m; 2” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("2 m\x00", "length", "Height “2 m\ufffd” is not a length with a unit used here; use mm, cm, m, in or ft."),
        ("8' 13\"", "length", "Height “8' 13\"” has 13 inches over; use fewer than 12."),
        ("2.6" * 20, "length", "Height has 60 characters, and 40 are allowed; type a length such as 2.6 m."),
        ("0 m", "length", "Height is “0 m”; it must be more than nothing, for example 2.6 m."),
        ("201 m", "length", "Height is 201 m; it must be at most 200 m. Check the unit."),
        ("3 m 2", "area", "Height “3 m 2” is not an area with a unit used here; use cm2, m2, sq in or sq ft."),
        (
            "5 gal",
            "volume",
            "Height “5 gal” is not a volume with a unit used here; use ml, l, m3, US gal, imp gal or cu ft.",
        ),
        ("1 h 75 min", "time_hours", "Height “1 h 75 min” has 75 minutes over; use fewer than 60."),
    ],
)
def test_it_refuses_what_it_would_have_to_guess_and_says_what_to_type(typed, kind, sentence):
    with pytest.raises(EstimatorError) as error:
        parse(typed, kind, "Height")
    assert str(error.value) == sentence
    assert error.value.name == "Height"


def test_nothing_is_taken_only_where_nothing_is_an_answer():
    assert parse("0 kg", "mass", "Armature", allow_zero=True) == 0.0
    with pytest.raises(QuantityError, match="it must be more than nothing"):
        parse("0 kg", "mass", "Armature")


# What hurts a form: other scripts' figures, marks that join or turn, ends of text, a megabyte, half a character.
TORTURE = [
    "1e400 m",
    "--1 m",
    "NaN m",
    "Infinity m",
    "1" * 400,
    "𝟐 m",
    "२ m",
    "👷🏽 m",
    "2 m\u202e",
    "2\u0301 m",
    "\ud800 m",
    "2 \udfff",
    "\x00",
    "</script> 2 m",
    '__import__("os")',
    "2 m\n2 m",
    "\t2 m",
    "²",
    "2² m",
    "½½ in",
    "1/2/3 in",
    "m" * 1_000_000,
    " " * 1_000_000,
]


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_gives_anything_but_a_refusal_that_can_be_printed(kind):
    for typed in TORTURE:
        with pytest.raises(EstimatorError) as error:
            parse(typed, kind, "Height")
        assert len(str(error.value).encode("utf-8")) < 400


@laws
@given(
    st.text(max_size=50) | st.text(alphabet="0123456789.,/ -'\"½eftinmkg²\u202f", max_size=42),
    st.sampled_from(sorted(KINDS)),
)
def test_whatever_is_typed_gives_a_quantity_or_one_plain_sentence(typed, kind):
    try:
        outcome = format_quantity(parse(typed, kind, allow_zero=True), kind)
    except EstimatorError as error:
        outcome = str(error)
    assert outcome.encode("utf-8")


@laws
@given(st.decimals(min_value=1, max_value=10**5, places=2))
def test_a_number_means_the_same_however_its_thousands_are_parted(number):
    plain, spaced = f"{number} mm", f"{number:,} mm".replace(",", " ")
    assert parse(plain, "length") == parse(spaced, "length") == parse(plain.replace(".", ","), "length")


@laws
@given(st.floats(0.13, 6000))
def test_feet_and_inches_can_be_typed_again_within_an_eighth(inches):
    shown = format_quantity(inches * 0.0254, "length", "us")
    assert parse(shown, "length") == pytest.approx(inches * 0.0254, abs=0.0254 / 16 + 1e-9)


@pytest.mark.parametrize(
    ("value", "kind", "metric", "us"),
    [
        (2.6, "length", "2.6 m", "8 ft 6 3/8 in"),
        (2.5908, "length", "2.591 m", "8 ft 6 in"),
        (3.048, "length", "3.048 m", "10 ft"),
        (0.15, "length", "150 mm", "5 7/8 in"),
        (0.0025, "length", "2.5 mm", "0.0984 in"),
        (0.9996, "length", "1 m", "3 ft 3 3/8 in"),
        (0.0, "length", "0 m", "0 in"),
        (3.2, "area", "3.2 m²", "34.4 sq ft"),
        (0.012, "volume", "12 l", "3.17 US gal"),
        (1.728, "volume", "1.73 m³", "61 cu ft"),
        (18.3972, "mass", "18.4 kg", "40.6 lb"),
        (12345.6, "mass", "12 346 kg", "27 217 lb"),
        (0.35, "mass", "350 g", "12.3 oz"),
        (0.9999, "mass", "1 kg", "2.2 lb"),
        (0.45, "areal_mass", "450 g/m²", "1.47 oz/ft²"),
        (9.6, "areal_mass", "9.6 kg/m²", "31.5 oz/ft²"),
        (50, "film", "50 µm", "1.97 mil"),
        (35, "density", "35 kg/m³", "2.18 lb/ft³"),
        (300, "force", "300 N", "67.4 lbf"),
        (2960, "force", "2.96 kN", "665 lbf"),
        (434, "pressure", "434 Pa", "9.06 lbf/ft²"),
        (80e6, "pressure", "80 MPa", "11 603 psi"),
        (14.5, "time_hours", "14.5 h", "14.5 h"),
        (-2.6, "length", "−2.6 m", "−8 ft 6 3/8 in"),
    ],
)
def test_it_prints_the_digits_that_matter(value, kind, metric, us):
    shown = [
        format_quantity(value, kind, system).replace("\u00a0", " ").replace("\u202f", " ")
        for system in ("metric", "us")
    ]
    assert shown == [metric, us]


def test_digits_can_be_asked_for():
    assert format_quantity(2.6, "length", "metric", digits=3) == "2.600\u00a0m"
    assert format_quantity(2.54, "length", "us", digits=1) == "100.0\u00a0in"


def test_a_number_is_rounded_half_up_and_keeps_its_whole_figures():
    assert format_number(0.125, 2) == "0.13"
    assert format_number(123456.5) == "123\u202f457"
    assert format_number(0.00012345) == "0.000123"
    assert format_number(-0.0001, 1) == "0.0"


def test_a_take_off_quantity_is_shown_in_the_studios_system():
    assert display_quantity(18.3972, "kg") == ("18.4", "kg")
    assert display_quantity(18.3972, "kg", "us") == ("40.6", "lb")
    assert display_quantity(12.3, "m2") == ("12.3", "m²")
    assert display_quantity(1.728, "m3", "us") == ("61", "cu ft")
    assert display_quantity(737.998, "ml") == ("738", "ml")
    assert display_quantity(12, "each", "us") == ("12", "each")
    assert display_quantity(2.96, "kN", "us") == ("665", "lbf")
    assert display_quantity(434, "Pa", "us") == ("9.06", "lbf/ft²")
    assert display_quantity(60, "N/mm^2", "us") == ("8\u202f702", "psi")
    assert display_quantity(7.25, "h", "us") == ("7.25", "h")


def test_units_are_printed_as_they_are_read():
    assert [unit_text(unit) for unit in ("m^2", "kg/m^2", "m/s^2", "um", "m2/l", "sq ft", "each", "")] == [
        "m²",
        "kg/m²",
        "m/s²",
        "µm",
        "m²/l",
        "sq ft",
        "each",
        "",
    ]
    assert unit_label("areal_mass", "metric") == "g/m²"
    assert unit_label("length", "us") == "ft"


def test_every_suggested_unit_is_one_that_can_be_typed():
    for kind in KINDS:
        for system in ("metric", "us"):
            assert parse(f"1 {unit_label(kind, system)}", kind) > 0


def test_it_converts_between_units_of_one_kind():
    assert convert(118, "in", "m") == 2.9972
    assert convert(1, "US gal", "l") == pytest.approx(3.785411784, rel=1e-15)
    with pytest.raises(QuantityError, match="kg cannot be turned into m; they measure different things"):
        convert(1, "kg", "m")
    with pytest.raises(QuantityError, match="unit 'stone' is not known"):
        convert(1, "stone", "kg")


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_finite_is_neither_converted_nor_printed(value):
    with pytest.raises(OutOfRange, match="must be a finite number"):
        convert(value, "m", "ft")
    with pytest.raises(OutOfRange, match="must be a finite number"):
        format_quantity(value, "length", "us")
    with pytest.raises(OutOfRange, match="must be a finite number"):
        display_quantity(value, "each")


def test_a_kind_or_system_that_is_not_known_is_named():
    with pytest.raises(UnknownChoice, match="kind of quantity 'weight' is not known; use one of length, area"):
        format_quantity(1.0, "weight")
    with pytest.raises(UnknownChoice, match="system of units 'imperial' is not known; use one of metric, us"):
        display_quantity(1.0, "kg", "imperial")


def test_the_registry_is_made_only_when_a_factor_is_first_needed():
    code = "import materials.units.registry as r; assert r._registry.cache_info().currsize == 0; print('idle')"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert ran.stdout == "idle\n"
