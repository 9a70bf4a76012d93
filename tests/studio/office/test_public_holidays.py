"""Public holidays by country and part of it."""

import datetime

import pytest

from studio.office.models import House
from studio.office.public_holidays import coming, countries, regions

NEW_YEAR = datetime.date(2027, 1, 1)


def test_countries_are_listed_by_their_english_names() -> None:
    names = [name for _, name in countries()]
    assert names == sorted(names)
    assert dict(countries())["GB"] == "United Kingdom"


def test_a_part_of_a_country_has_holidays_of_its_own() -> None:
    # St Andrew's Day is a bank holiday in Scotland and not in England (Banking and Financial Dealings Act 1971).
    scotland = {each.day for each in coming("GB", "SCT", NEW_YEAR, 50)}
    england = {each.day for each in coming("GB", "ENG", NEW_YEAR, 50)}
    assert datetime.date(2027, 11, 30) in scotland - england


def test_the_next_ones_come_first_and_the_day_itself_counts() -> None:
    found = coming("GB", "ENG", NEW_YEAR, 3)
    assert [each.day for each in found] == sorted(each.day for each in found)
    assert found[0].day == NEW_YEAR
    assert len(found) == 3


@pytest.mark.parametrize(("country", "region"), [("XX", ""), ("GB", "BY"), ("", "")])
def test_what_is_not_known_has_none(country: str, region: str) -> None:
    assert coming(country, region, NEW_YEAR, 3) == []


def test_a_country_without_parts_has_no_codes() -> None:
    assert regions("IS") == ()
    assert regions("XX") == ()
    assert "ENG" in regions("GB")


def test_no_code_is_longer_than_the_row_of_the_house_can_keep() -> None:
    longest = House._meta.get_field("region").max_length
    assert longest is not None
    assert all(len(part) <= longest for code, _ in countries() for part in regions(code))
