"""Whoever reads in pounds is shown no load in kilograms, on any page: the pages are those that axe
looks at."""

import re
from html import unescape

import pytest
from django.test import Client

from athletes.models import User
from tests.browser.pages import Look, every_look
from tests.conftest import Cast

pytestmark = pytest.mark.django_db
LOOKS = [look for look in every_look() if look.who and look.status == 200]
LOAD_IN_KG = re.compile(r"\d[\s\u2009]?(?:<span class=\"u\">)?kg\b")


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_a_reader_in_pounds_meets_no_kilograms(look: Look, client: Client, cast: Cast) -> None:
    User.objects.update(unit="lb")
    for person in cast:
        person.refresh_from_db()
    url = look.build(cast)
    client.force_login(getattr(cast, str(look.who)))
    page = unescape(client.get(url, follow=True).content.decode())
    found = [page[max(0, m.start() - 60) : m.end()] for m in LOAD_IN_KG.finditer(page)]
    assert found == []
