"""The mix card on its page: tables from the catalogue, refusals in words, paint by ratio."""

import re
from html import unescape
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission
from materials.estimator.gel import GelReading
from materials.models import Item
from materials.services.gel import change_gel_times
from studio.accounts.models import Role, User
from tests.factories import make_commission, make_section, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def commission() -> Commission:
    found = make_commission()
    make_section(found, "Base")
    return found


def enter_times(key: str) -> None:
    item, by = Item.objects.get(key=key), User.objects.get()
    times = [GelReading(c, p, m / p) for c, m in ((9.0, 90.0), (15.0, 60.0), (25.0, 20.0)) for p in (1.0, 2.0, 3.0)]
    change_gel_times(by=by, item=item, version=item.version, readings=times)


def card(client: Client, commission: Commission, **asked: object) -> tuple[int, str]:
    page = client.get(f"{reverse('sheet', args=[commission.pk, 'mix'])}?{urlencode(asked)}")
    return page.status_code, re.sub(r"\s+", " ", unescape(page.content.decode()))


def test_without_a_makers_table_it_says_where_to_enter_it(commission: Commission) -> None:
    status, body = card(signed_in(Role.BENCH), commission, stage="cast")
    assert status == 200
    assert "Gel-time table of Gel coat is missing; enter the maker's minutes" in body


def test_the_card_pours_by_the_table(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("laminating_resin")
    status, body = card(client, commission, stage="cast", layer="session-1", area="2 m2", percent="2", temperature="25")
    assert status == 200
    # Three layers of 450 at 0.30 take 3.15 kg/m2 of resin, with 10 % of waste 6.93 kg for 2 m2; 10 min of gel, 0.65 of
    # it usable, three people at 0.35 kg/min and a 3 kg bucket make three batches of 2.31 kg, 46.2 ml to each.
    big = body.partition('class="big"')[2].partition("</dl>")[0]
    assert re.findall(r"<dd>(.*?)</dd>", big) == ["2.31 kg", "46.2 ml", "6.5 min"]
    assert "volume on weight" in body.lower()
    assert f'as the Stores keep it, checked on <time datetime="{timezone.localdate()}"' in body
    assert "they explode" in body


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"temperature": "9"}, "it must be at least 10 °C. It would not cure through"),
        ({"temperature": "26"}, "it must be between 9 and 25 °C. Its maker's table ends there"),
        ({"percent": "3.5"}, "it must be between 1 and 3 %"),
        ({"percent": "0.5"}, "it must be between 1 and 3 %"),
        ({"layer": "session-9"}, "Choose what is mixed."),
        ({"area": "two"}, "Area “two” is not an area"),
        ({"people": "0"}, "too small"),
        ({"temperature": "warm"}, "is not a plain number"),
    ],
)
def test_what_is_asked_wrongly_is_refused_and_kept(commission: Commission, asked: dict[str, str], told: str) -> None:
    client = signed_in(Role.BENCH)
    enter_times("gel_coat")
    status, body = card(client, commission, stage="cast", **asked)
    assert status == 422
    assert told in body
    value = next(iter(asked.values()))
    assert f'value="{value}"' in body or value == "session-9"


def test_a_cool_shop_is_cautioned(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("gel_coat")
    assert "Below 15 °C cure is slow" in card(client, commission, stage="cast", temperature="14")[1]
    assert "Below 15 °C cure is slow" not in card(client, commission, stage="cast", temperature="15")[1]


def test_paint_is_mixed_by_the_ratio_of_its_system(commission: Commission) -> None:
    status, body = card(signed_in(Role.BENCH), commission, stage="finish", layer="coat-1", area="10 m2")
    assert status == 200
    # 75 um dry at 60 % solids cover 8 m2/l; half is lost: 2.5 l mixed, 4 to 1, with 10 % of thinner.
    big = body.partition('class="big"')[2].partition("</dl>")[0]
    assert re.findall(r"<dd>(.*?)</dd>", big) == ["2 000 ml", "500 ml", "250 ml"]
    assert "4 of base to 1 of hardener" in body
    assert "isocyanates" in body


def test_filler_is_mixed_with_paste_by_weight(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("fairing_filler")
    status, body = card(client, commission, stage="finish", temperature="20")
    assert status == 200
    assert "weight on weight" in body.lower()


def test_the_resin_of_a_mould_says_what_of_it_is_for_the_returns(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("laminating_resin")
    body = card(client, commission, stage="mould", layer="all", temperature="20")[1]
    assert re.search(r"Of it .*?, \d+.%, is for the 2 layers more on the returns", body)
    alone = card(client, commission, stage="mould", layer="besides", temperature="20")[1]
    # One bucket or more of the same resin, and the same amount as the card of all of it names.
    assert re.findall(r"Of it (.*?), \d+.%, is for", body)[0] in alone
    strips = card(client, commission, stage="cast", layer="all", temperature="20")[1]
    assert "in the joining strips" in strips


def test_a_paste_is_catalysed_by_its_resin_alone(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("laminating_resin")
    asked = {"stage": "cast", "layer": "paste-chalk", "filled": "2 m2", "depth": "3 mm", "percent": "2"}
    status, body = card(client, commission, **asked, temperature="25", people="2")
    assert status == 200
    # 6 l of paste at 1392.29 kg/m3 with 10 % of waste weigh 9.189 kg, 6.126 kg of it resin; 10 min of gel, 0.65 of it
    # usable, two people at 0.35 kg/min and a 3 kg bucket make three batches of 2.042 kg, with half as much chalk and
    # 40.8 ml of catalyst. By definition; densities from memory.
    big = body.partition('class="big"')[2].partition("</dl>")[0]
    assert re.findall(r"<dd>(.*?)</dd>", big) == ["2.04 kg", "1.02 kg", "40.8 ml", "6.5 min"]
    assert "on the resin alone" in body
    for words in ("Fillers are fine dust", "a P3 mask", "they explode", "9.19 kg", "6 l"):
        assert words in body
    assert 'name="area"' not in body


def test_a_paste_begins_with_the_studios_figures_and_refuses_too_much_filler(commission: Commission) -> None:
    client = signed_in(Role.BENCH)
    enter_times("laminating_resin")
    status, body = card(client, commission, stage="finish", layer="paste-bubbles")
    assert status == 200
    assert re.search(r'name="parts_bubbles" value="15"', body)
    assert re.search(r'name="depth" value="0.5 mm"', body)
    status, body = card(client, commission, stage="finish", layer="paste-bubbles", parts_bubbles="40")
    assert status == 422
    assert "Put in less filler, or a heavier one." in body
    assert 'value="40"' in body
    # What was typed for one filler says nothing of another.
    _, body = card(client, commission, stage="finish", layer="paste-silica", parts_bubbles="40")
    assert re.search(r'name="parts_silica" value="3"', body)
