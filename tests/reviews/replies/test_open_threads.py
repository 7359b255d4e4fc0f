"""Ask-backs stand on the coach's desk until somebody answers or sets them aside."""

import pytest
from django.test import Client

from coachdesk.common.errors import NotFound
from reviews.replies.selectors.open_threads import open_threads
from reviews.replies.services.send_message import send_message, set_aside
from tests.reviews.replies.rows import a_submission, an_answer, statements

pytestmark = pytest.mark.django_db


@pytest.fixture
def answered(cast):
    submission = a_submission(cast.athlete)
    an_answer(cast.coach, submission)
    return submission


def test_the_longest_wait_comes_first_and_one_thread_once(cast, answered) -> None:
    other = a_submission(cast.other_athlete)
    elsewhere = a_submission(cast.outsider)
    for author, submission, text in [
        (cast.athlete, answered, "Does the pause count?"),
        (cast.other_athlete, other, "Belt or no belt?"),
        (cast.athlete, answered, "And the walk-out?"),
        (cast.outsider, elsewhere, "Not yours."),
    ]:
        send_message(author=author, submission=submission, text=text)
    threads = open_threads(cast.second_coach)
    assert [(t.submission, t.first.text, t.more) for t in threads] == [
        (answered, "Does the pause count?", 1),
        (other, "Belt or no belt?", 0),
    ]


@pytest.mark.parametrize("deed", ["message", "version", "aside"])
def test_what_answers_it_takes_it_off_the_desk(cast, answered, deed: str) -> None:
    send_message(author=cast.athlete, submission=answered, text="Thanks!")
    assert len(open_threads(cast.coach)) == 1
    if deed == "message":
        send_message(author=cast.second_coach, submission=answered, text="Any time.")
    elif deed == "version":
        an_answer(cast.coach, answered, "In other words.")
    else:
        set_aside(coach=cast.second_coach, submission=answered)
    assert open_threads(cast.coach) == []
    send_message(author=cast.athlete, submission=answered, text="One more thing.")
    assert len(open_threads(cast.coach)) == 1


def test_a_coach_s_own_words_ask_nobody(cast, answered) -> None:
    send_message(author=cast.coach, submission=answered, text="How did it go?")
    assert open_threads(cast.coach) == []


def test_nobody_else_sets_it_aside(cast, answered) -> None:
    send_message(author=cast.athlete, submission=answered, text="And?")
    for other in (cast.stranger, cast.athlete):
        with pytest.raises(NotFound):
            set_aside(coach=other, submission=answered)
    assert len(open_threads(cast.coach)) == 1


def test_the_desk_s_part_costs_the_same_however_many_wait(cast, answered, client: Client) -> None:
    client.force_login(cast.coach)
    assert client.get("/desk/asked-back/").content.strip() == b""
    send_message(author=cast.athlete, submission=answered, text="<b>And?</b>")
    before = statements(client, "/desk/asked-back/")
    for more in range(3):
        send_message(author=cast.athlete, submission=answered, text=f"More {more}")
        other = a_submission(cast.other_athlete)
        send_message(author=cast.other_athlete, submission=other, text="x")
    assert statements(client, "/desk/asked-back/") == before
    page = client.get("/desk/asked-back/").content.decode()
    assert page.count("<li>") == 4
    assert "&lt;b&gt;And?" in page
    assert "+ 3 more" in page
