"""Two cues, or two drills, that mean the same become one; what was said and prescribed stays."""

import pytest
from django.urls import reverse

from coachdesk.common.errors import Invalid
from reviews.library.keeping import bring_back, keep_under, retire
from reviews.library.merging_hung import merge, partners_of, preview
from reviews.library.models import Cue, Drill, Fault
from reviews.library.queries import palette
from reviews.permissions import library_of
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


@pytest.fixture
def hips(cast) -> Fault:
    return Fault.objects.get(club=cast.coach.club, name="Hips rise first")


@pytest.fixture
def brace(cast) -> Fault:
    return Fault.objects.get(club=cast.coach.club, name="Loose brace", family="squat")


@pytest.fixture
def old(cast, hips) -> Cue:
    made = Cue(text="Shove the floor.")
    keep_under(entry=made, fault=hips, by=cast.coach)
    return made


@pytest.fixture
def kept(cast, brace) -> Cue:
    made = Cue(text="Push the floor down.")
    keep_under(entry=made, fault=brace, by=cast.coach)
    return made


def a_drill(cast, fault: Fault, name: str, dose: str) -> Drill:
    made = Drill(name=name, dose=dose)
    keep_under(entry=made, fault=fault, by=cast.coach)
    return made


def test_the_one_that_stays_hangs_on_the_faults_of_both(cast, hips, brace, old, kept) -> None:
    keep_under(entry=old, fault=brace, by=cast.coach)
    seen = preview(entry=old, into=kept)
    assert (seen.gained, seen.already) == ([hips], [brace])
    assert list(kept.faults.all()) == [brace], "a preview writes nothing"
    assert merge(entry=old, into=kept, by=cast.coach) == kept
    old.refresh_from_db()
    assert set(kept.faults.all()) == {hips, brace}
    assert old.merged_into == kept
    offered = {
        cue["text"]
        for fault in palette(library_of(cast.coach), ["squat"])
        for cue in fault["cues"]
        if fault["id"] in {hips.pk, brace.pk}
    }
    assert kept.text in offered
    assert old.text not in offered


def test_old_notes_keep_their_words_and_new_ones_have_those_that_stay(
    cast, hips, brace, old, kept
) -> None:
    going = a_drill(cast, hips, "Pause squat", "3 x 3")
    staying = a_drill(cast, brace, "Squat with a pause", "3 x 4, 2 s")
    submission = a_submission(cast.athlete)
    note = a_note(cast.coach, a_clip(submission), cue=old, drill=going, rank=1)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={})
    sent = publish_reply(coach=cast.coach, submission_id=submission.pk)
    merge(entry=old, into=kept, by=cast.coach)
    merge(entry=going, into=staying, by=cast.coach)
    note.refresh_from_db()
    sent.refresh_from_db()
    assert (note.cue_text, note.drill_text) == ("Shove the floor.", "Pause squat, 3 x 3")
    assert sent.content["points"][0]["cue"] == "Shove the floor."
    # A workbench that was opened before the merge still offers the old ones.
    old.refresh_from_db()
    going.refresh_from_db()
    new = a_note(cast.coach, a_clip(a_submission(cast.athlete)), cue=old, drill=going)
    assert (new.cue, new.drill) == (kept, staying)
    assert (new.cue_text, new.drill_text) == (kept.text, "Squat with a pause, 3 x 4, 2 s")


def test_pointers_stay_one_step_long_and_it_can_be_brought_back(cast, hips, old, kept) -> None:
    last = Cue(text="Legs first.")
    keep_under(entry=last, fault=hips, by=cast.coach)
    merge(entry=old, into=kept, by=cast.coach)
    merge(entry=kept, into=last, by=cast.coach)
    old.refresh_from_db()
    assert old.merged_into == last
    bring_back(entry=old)
    old.refresh_from_db()
    assert (old.retired_at, old.merged_into, list(old.faults.all())) == (None, None, [hips])


@pytest.mark.parametrize(
    ("into", "words"),
    [("itself", "another cue"), ("another club", "this library"), ("retired", "meanwhile")],
)
def test_what_cannot_be_merged_stays(cast, old, kept, into, words) -> None:
    target = {"itself": old, "retired": kept}.get(into)
    target = target or Cue.objects.filter(club=cast.stranger.club)[0]
    if into == "retired":
        retire(entry=kept)
    assert target not in partners_of(old)
    with pytest.raises(Invalid, match=words):
        merge(entry=old, into=target, by=cast.coach)
    old.refresh_from_db()
    assert old.merged_into is None


def test_the_page_shows_what_happens_then_does_it(client, cast, hips, brace) -> None:
    going = a_drill(cast, hips, "Pause squat, light", "3 x 3")
    staying = a_drill(cast, brace, "Squat with a pause", "3 x 4, 2 s")
    client.force_login(cast.coach)
    home = reverse("library-fault", args=[hips.pk])
    url = reverse("library-hang-merge", args=[hips.pk, "drills", going.pk])
    assert f'href="{url}"' in client.get(home).content.decode()
    page = client.get(url, {"into": staying.pk}).content.decode()
    assert "Merge into “Squat with a pause”" in page
    assert "<b>3 x 3</b>" in page, "the dose that is dropped is shown"
    assert page.index("Under “Hips rise first”") < page.index('<optgroup label="Squat">')
    assert client.post(url, {"into": "0"}).status_code == 422
    answer = client.post(url, {"into": staying.pk})
    assert answer.headers["Location"] == home
    shown = client.get(home).content.decode()
    assert "part of “Squat with a pause” now" in shown
    assert f'href="{url}"' not in shown
