"""Two faults that mean the same become one; what was said stays said."""

import pytest
from django.urls import reverse

from coachdesk.common.errors import Invalid
from reviews.library.keeping import bring_back, keep_under, retire
from reviews.library.merging import merge, partners_of, preview, used_now
from reviews.library.models import Cue, Fault
from reviews.library.queries import palette
from reviews.permissions import library_of
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


def named(cast, name: str, family: str = "squat") -> Fault:
    return Fault.objects.get(club=cast.coach.club, family=family, name=name)


@pytest.fixture
def hips(cast) -> Fault:
    return named(cast, "Hips rise first")


@pytest.fixture
def knees(cast) -> Fault:
    return named(cast, "Knees come in")


def test_cues_and_drills_move_and_the_other_points_at_the_one_that_stays(cast, hips, knees) -> None:
    cues, drills = set(hips.cues.all()), set(hips.drills.all())
    had = set(knees.cues.all())
    assert merge(fault=hips, into=knees, by=cast.coach) == knees
    hips.refresh_from_db()
    assert hips.merged_into == knees
    assert hips.retired_at is not None
    assert set(knees.cues.all()) == had | cues
    assert drills <= set(knees.drills.all())
    assert not hips.cues.exists()
    assert not hips.drills.exists(), "one that hung on both stays on one"
    assert hips.pk not in [entry["id"] for entry in palette(library_of(cast.coach), ["squat"])]


def test_the_same_words_are_kept_once(cast, hips, knees) -> None:
    there = Cue(text="Twist the floor apart.")
    keep_under(entry=there, fault=knees, by=cast.coach)
    twice = Cue(text="twist  the FLOOR apart.")
    keep_under(entry=twice, fault=hips, by=cast.coach)
    assert (twice, there) in preview(fault=hips, into=knees).doubled
    merge(fault=hips, into=knees, by=cast.coach)
    twice.refresh_from_db()
    assert twice.merged_into == there
    live = [cue for cue in knees.cues.filter(retired_at=None) if "floor apart" in cue.text.lower()]
    assert live == [there]


def test_the_same_words_stay_where_another_fault_has_them_too(cast, hips, knees) -> None:
    other = named(cast, "Loose brace")
    there, shared = Cue(text="Same."), Cue(text="Same.")
    keep_under(entry=there, fault=knees, by=cast.coach)
    keep_under(entry=shared, fault=hips, by=cast.coach)
    shared.faults.add(other)
    merge(fault=hips, into=knees, by=cast.coach)
    shared.refresh_from_db()
    assert shared.retired_at is None
    assert list(shared.faults.all()) == [other]


def test_pointers_stay_one_step_long(cast, hips, knees) -> None:
    last = named(cast, "Loose brace")
    merge(fault=hips, into=knees, by=cast.coach)
    knees.refresh_from_db()
    merge(fault=knees, into=last, by=cast.coach)
    hips.refresh_from_db()
    assert hips.merged_into == last
    assert used_now(hips) == last


@pytest.mark.parametrize(
    ("into", "words"),
    [("itself", "another fault"), ("another lift", "of one lift"), ("another club", "this library"),
     ("retired", "retired meanwhile"), ("merged", "retired meanwhile")],
)  # fmt: skip
def test_what_cannot_be_merged_stays(cast, hips, knees, into, words) -> None:
    going, target = hips, hips
    if into == "another lift":
        target = Fault.objects.filter(club=hips.club, family="bench")[0]
    elif into == "another club":
        target = Fault.objects.filter(club=cast.stranger.club, family="squat")[0]
    elif into == "retired":
        retire(entry=knees)
        target = knees
    elif into == "merged":
        merge(fault=hips, into=knees, by=cast.coach)
        target = named(cast, "Loose brace")
    with pytest.raises(Invalid, match=words):
        merge(fault=going, into=target, by=cast.coach)


def test_old_notes_keep_their_words_and_new_ones_name_the_one_that_stays(cast, hips, knees) -> None:
    submission = a_submission(cast.athlete)
    clip = a_clip(submission)
    old = a_note(cast.coach, clip, fault=hips, rank=1)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={})
    sent = publish_reply(coach=cast.coach, submission_id=submission.pk)
    merge(fault=hips, into=knees, by=cast.coach)
    old.refresh_from_db()
    sent.refresh_from_db()
    assert (old.fault, old.fault_name) == (hips, "Hips rise first")
    assert "Hips rise first" in str(sent.content)
    # A workbench that was opened before the merge still offers the old one.
    hips.refresh_from_db()
    new = a_note(cast.coach, a_clip(a_submission(cast.athlete)), fault=hips)
    assert (new.fault, new.fault_name) == (knees, "Knees come in")


def test_brought_back_it_is_an_entry_of_its_own(cast, hips, knees) -> None:
    merge(fault=hips, into=knees, by=cast.coach)
    hips.refresh_from_db()
    bring_back(entry=hips)
    hips.refresh_from_db()
    assert (hips.retired_at, hips.merged_into) == (None, None)
    assert used_now(hips) == hips


def test_the_page_shows_what_happens_then_does_it(client, cast, hips, knees) -> None:
    client.force_login(cast.coach)
    url = reverse("library-merge", args=[hips.pk])
    assert f'href="{url}"' in client.get(reverse("library-fault", args=[hips.pk])).content.decode()
    page = client.get(url, {"into": knees.pk}).content.decode()
    assert all(str(cue) in page for cue in hips.cues.all())
    assert "Merge into “Knees come in”" in page
    hips.refresh_from_db()
    assert hips.retired_at is None, "a preview writes nothing"
    answer = client.post(url, {"into": knees.pk})
    assert answer.headers["Location"] == reverse("library-fault", args=[knees.pk])
    old = client.get(reverse("library-fault", args=[hips.pk])).content.decode()
    assert "Merged into" in old
    assert f'href="{url}"' not in old


def test_only_live_faults_of_the_lift_are_offered(client, cast, hips, knees) -> None:
    retire(entry=knees)
    offered = partners_of(hips)
    assert {(fault.club_id, fault.family) for fault in offered} == {(hips.club_id, "squat")}
    assert knees not in offered
    assert hips not in offered
    client.force_login(cast.coach)
    answer = client.post(reverse("library-merge", args=[hips.pk]), {"into": knees.pk})
    assert answer.status_code == 422
    assert "Choose a fault of this lift" in answer.content.decode()
