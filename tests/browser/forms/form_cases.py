"""The plain forms whose words are kept, each with one of its fields."""

from collections.abc import Callable
from dataclasses import dataclass

from django.urls import reverse
from playwright.sync_api import Page

from tests.browser.correction.pages import fresh
from tests.browser.desk.pages import angle_page, edited, fault_page
from tests.browser.maxes.pages import history, rebuilding
from tests.conftest import Cast


@dataclass(frozen=True)
class FormCase:
    name: str
    who: str
    build: Callable[[Cast], str]
    field: str
    words: str = "Written in the gym"


FORMS = [
    FormCase("profile", "athlete", lambda cast: reverse("profile"), "#id_name"),
    FormCase("library entry", "coach", lambda cast: reverse("library-add"), "#id_see"),
    FormCase("library entry, edited", "coach", edited, "#id_see"),
    FormCase("cue", "coach", fault_page("?cues=new#cues"), "kept-form [name=text]"),
    FormCase("another angle", "coach", angle_page, "#why"),
    FormCase("correction", "coach", fresh, "kept-form [name=weeks]", "3"),
    FormCase("movement", "coach", lambda cast: reverse("movement-add"), "#id_name"),
    FormCase("rebuilt movement", "coach", rebuilding, "#id_name"),
    FormCase("set a max", "coach", history, "kept-form [name=reason]"),
    FormCase("template", "coach", lambda cast: reverse("programmes"), "kept-form [name=name]"),
    FormCase("programme", "coach",
             lambda cast: reverse("programme", args=[cast.athlete.pk]), "kept-form [name=name]"),
    FormCase("plates", "athlete", lambda cast: reverse("plates", args=[cast.athlete.pk]),
             "#id_bar", "17.5"),
]  # fmt: skip


def type_into(page: Page, case: FormCase) -> None:
    field = page.locator(case.field)
    if field.evaluate("field => field.localName") == "select":
        field.select_option(case.words)
    else:
        field.fill(case.words)
