"""Whoever reads in pounds is shown no load in kilograms: a page of each route that axe looks at."""

import re
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from athletes.models import User
from tests.browser.pages import Look, every_look
from tests.conftest import Cast
from tests.programming.plans.build import a_programme

# Committed: a clip that is made for a look is leased by another connection.
pytestmark = pytest.mark.django_db(transaction=True)
LOAD_IN_KG = re.compile(r"\d[\s\u2009]?(?:<span class=\"u\">)?kg\b")
# Both units of a common set of plates; a file in the unit it names; a coach's own words; and cells
# and rules of the grid, which come back as they were typed: these tests type kilograms.
AS_TYPED = {"plates", "log-import", "log-import-check", "submission-words"}
AS_TYPED |= {"programme", "programme-grid"}
LOOKS = {
    look.route: look
    for look in reversed(every_look())
    if look.who and look.status == 200 and not {look.route, f"{look.route}-{look.state}"} & AS_TYPED
}


@pytest.mark.parametrize("look", LOOKS.values(), ids=lambda look: look.name)
def test_a_reader_in_pounds_meets_no_kilograms(look: Look, client: Client, cast: Cast) -> None:
    User.objects.update(unit="lb")
    for person in cast:
        person.refresh_from_db()
    url = look.build(cast)
    client.force_login(getattr(cast, str(look.who)))
    page = unescape(client.get(url, follow=True).content.decode())
    found = [page[max(0, m.start() - 60) : m.end()] for m in LOAD_IN_KG.finditer(page)]
    assert found == []


def test_the_grid_hints_at_loads_in_its_athletes_unit(client: Client, cast: Cast) -> None:
    User.objects.filter(pk=cast.athlete.pk).update(unit="lb")
    cast.athlete.refresh_from_db()
    a_programme(cast.coach, cast.athlete)
    client.force_login(cast.coach)
    page = client.get(reverse("programme", args=[cast.athlete.pk])).content.decode()
    assert "3x5 315lb," in page
    assert "140kg" not in page
