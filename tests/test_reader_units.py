"""Whoever reads in pounds is shown no load in kilograms: a page of each route that axe looks at."""

import re
from html import unescape

import pytest
from django.test import Client

from athletes.models import User
from tests.browser.pages import Look, every_look
from tests.conftest import Cast

pytestmark = pytest.mark.django_db
LOAD_IN_KG = re.compile(r"\d[\s\u2009]?(?:<span class=\"u\">)?kg\b")
# A cell of the grid comes back as it was typed, and these tests type kilograms.
TYPED = re.compile(r'data-text="[^"]*"')
# Both units of a common set of plates; a file in the unit it names; a coach's own words.
BOTH = {"plates", "log-import", "log-import-check", "submission-words"}
LOOKS = {
    look.route: look
    for look in reversed(every_look())
    if look.who and look.status == 200 and not {look.route, f"{look.route}-{look.state}"} & BOTH
}


@pytest.mark.parametrize("look", LOOKS.values(), ids=lambda look: look.name)
def test_a_reader_in_pounds_meets_no_kilograms(look: Look, client: Client, cast: Cast) -> None:
    User.objects.update(unit="lb")
    for person in cast:
        person.refresh_from_db()
    url = look.build(cast)
    client.force_login(getattr(cast, str(look.who)))
    page = TYPED.sub("", unescape(client.get(url, follow=True).content.decode()))
    found = [page[max(0, m.start() - 60) : m.end()] for m in LOAD_IN_KG.finditer(page)]
    assert found == []
