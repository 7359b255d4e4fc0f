"""The part of the queue a coach works in is kept from page to page."""

import pytest
from django.urls import reverse

from reviews.desk.claiming import live_claim
from reviews.intake.models import Clip, ClipState

PAIN = {"what": "pain"}


@pytest.fixture
def coach(client, cast):
    client.force_login(cast.coach)
    return client


def test_the_workbench_leads_back_and_on_within_the_part(coach, waiting) -> None:
    sore, plain, worse = waiting(pain=3, days=3), waiting(days=9), waiting(pain=6, days=2)
    Clip.objects.update(state=ClipState.RECEIVING)
    coach.get(reverse("desk"), PAIN)
    page = coach.get(reverse("workbench", args=[sore.pk]))
    urls = page.context["workbench"]["urls"]
    assert urls["desk"] == f"{reverse('desk')}?what=pain"
    type(sore).objects.filter(pk=sore.pk).update(state="answered")
    answer = coach.post(urls["next"])
    assert answer.url == reverse("workbench", args=[worse.pk]), "the oldest has no pain"
    assert live_claim(plain) is None


def test_looking_at_all_again_forgets_the_part(coach, waiting) -> None:
    sore = waiting(pain=3)
    Clip.objects.update(state=ClipState.RECEIVING)
    for words in (PAIN, {}):
        coach.get(reverse("desk"), words)
    page = coach.get(reverse("workbench", args=[sore.pk]))
    assert page.context["workbench"]["urls"]["desk"] == reverse("desk")


def test_handing_over_leads_back_to_it(coach, cast, waiting) -> None:
    sore = waiting(pain=3)
    coach.get(reverse("desk"), PAIN)
    coach.post(reverse("desk-claim", args=[sore.pk]))
    told = {"holder": cast.coach.pk, "to": cast.second_coach.pk}
    assert coach.post(reverse("desk-hand", args=[sore.pk]), told).url.endswith("?what=pain")


def test_a_claim_for_later_stays_on_the_desk(coach, cast, waiting) -> None:
    free = waiting()
    answer = coach.post(reverse("desk-claim", args=[free.pk]), {"stay": "yes", **PAIN})
    assert answer.url == f"{reverse('desk')}?what=pain#submission-{free.pk}"
    assert live_claim(free).coach == cast.coach
