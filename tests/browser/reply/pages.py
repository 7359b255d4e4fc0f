"""The athlete's pages, in the states a lifter meets."""

from datetime import timedelta
from decimal import Decimal
from uuid import UUID

from django.urls import reverse
from django.utils import timezone

from athletes.local_time import today_of
from programming.corrections.preview import preview
from programming.plans.models.correction import Kind
from reviews.desk.claiming import claim
from reviews.intake.models import ClipState, Submission
from reviews.replies.models import Reply, ReplyVersion, Result
from reviews.replies.services.apply_correction import apply_correction
from reviews.replies.services.mark_read import mark_understood
from reviews.replies.services.record_outcome import record_outcome
from reviews.replies.services.send_message import send_message
from tests.browser.correction.pages import planned, wish_of
from tests.browser.pages import Look
from tests.browser.reply.factories import (
    LONG,
    make_answered_submission,
    make_clip,
    make_reply,
    make_reply_in_words,
    report_pain,
)
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_submission


def page_of(submission: Submission, extra: str = "") -> str:
    return reverse("submission", args=[submission.pk]) + extra


def reply(cast: Cast) -> str:
    return page_of(make_answered_submission(cast))


def reply_in_pain(cast: Cast) -> str:
    submission = report_pain(a_submission(cast.athlete), "night", "spreading")
    make_reply(cast, make_clip(submission))
    return page_of(submission)


def reply_of_two_clips(cast: Cast) -> str:
    submission = a_submission(cast.athlete)
    make_clip(submission, load_kg="120", view="front")
    version = make_reply(cast, make_clip(submission, shows_fault=True))
    mark_understood(athlete=cast.athlete, submission=submission, number=version.number)
    send_message(author=cast.athlete, submission=submission, text="Does the pause count as a rep?")
    send_message(author=cast.coach, submission=submission, text="Yes.\n\nKeep it at two seconds.")
    return page_of(submission)


def reply_without_clip(cast: Cast) -> str:
    submission = make_answered_submission(cast)
    submission.clips.all().delete()
    return page_of(submission)


def reply_in_words(cast: Cast) -> str:
    submission = a_submission(cast.athlete, question="Is this fine? " * 12)
    a_clip(submission, state=ClipState.FAILED, reason="It holds sound but no picture.")
    make_reply_in_words(cast, submission)
    return page_of(submission)


def older_version(cast: Cast) -> str:
    submission = make_answered_submission(cast)
    make_reply_in_words(cast, submission)
    return page_of(submission, "?version=1")


def asked(cast: Cast) -> str:
    """Before an answer: one clip ready, one on its way, one broken; pain told of."""
    facts = {"tried": "Wider stance, heels up 5 mm.", "goal": "total", "equipment": ["belt"]}
    submission = report_pain(a_submission(cast.athlete, **facts))
    make_clip(submission, shows_fault=True)
    a_clip(submission, state=ClipState.PROCESSING, load_kg="120")
    a_clip(
        submission, state=ClipState.FAILED, reason="The file stops at 60%. Send it again, please."
    )
    return page_of(submission)


def changed_home(cast: Cast) -> str:
    """The programme was changed after the reply, and what hurts is not closed."""
    note = planned(cast)
    report_pain(note.clip.submission)
    version = make_reply(cast, note.clip)
    mark_understood(athlete=cast.athlete, submission=note.clip.submission, number=version.number)
    today = today_of(cast.athlete)
    wish = wish_of(cast, today + timedelta(weeks=4), kind=Kind.CAP, percent=Decimal(85))
    seal = preview(cast.athlete, wish, today=today).seal
    apply_correction(coach=cast.coach, note=note, wish=wish, seal=seal)
    return reverse("athlete-home")


def changed_reply(cast: Cast) -> str:
    changed_home(cast)
    return page_of(Submission.objects.get())


def one_clip(cast: Cast) -> str:
    submission = a_submission(cast.athlete)
    clip = make_clip(submission)
    return reverse("submission-clip", args=[submission.pk, clip.pk])


def full_home(cast: Cast) -> str:
    """Everything at once, with long names."""
    cast.coach.name = LONG
    cast.coach.save()
    report_pain(make_answered_submission(cast))
    old = make_answered_submission(cast)
    version = ReplyVersion.objects.get(reply__submission=old)
    mark_understood(athlete=cast.athlete, submission=old, number=version.number)
    asked(cast)
    held = a_submission(cast.athlete)
    a_clip(held)
    claim(submission=held, coach=cast.coach)
    a_submission(cast.athlete, state="draft", sent_at=None, question="")
    return reverse("athlete-home")


def overdue_home(cast: Cast) -> str:
    """Read, and the day to film again has passed."""
    submission = make_answered_submission(cast)
    version = ReplyVersion.objects.get(reply__submission=submission)
    past = (timezone.localdate() - timedelta(days=3)).isoformat()
    content = {**version.content, "film_again": {"by": past, "note": "The top set."}}
    reply = Reply.objects.get(submission=submission)
    later = ReplyVersion.objects.create(
        reply=reply, number=2, content=content, sent_by=version.sent_by
    )
    mark_understood(athlete=cast.athlete, submission=submission, number=later.number)
    return reverse("athlete-home")


def many_replies(cast: Cast) -> str:
    for _ in range(3):
        make_answered_submission(cast)
    make_reply_in_words(cast, a_submission(cast.athlete, question=f"{LONG}? " * 6))
    return reverse("replies")


def check_back_bench(cast: Cast) -> str:
    """The workbench of a check-back: one point judged, one still open."""
    back = a_submission(cast.athlete, check_back_of=make_answered_submission(cast))
    make_clip(back, shows_fault=True)
    claim(submission=back, coach=cast.coach)
    point = next(iter(ReplyVersion.objects.get().content["points"]))
    record_outcome(
        coach=cast.coach, check_back_id=back.pk, note=UUID(point["note"]), result=Result.BETTER
    )
    return reverse("workbench", args=[back.pk])


def desk_with_ask_backs(cast: Cast) -> str:
    """A long talk, a short one of somebody with a long name, and a check-back that waits."""
    cast.other_athlete.name = LONG
    cast.other_athlete.save()
    first = make_answered_submission(cast)
    for text in ("Does the pause count as a rep?", "And the walk-out? " * 6):
        send_message(author=cast.athlete, submission=first, text=text)
    theirs = a_submission(cast.other_athlete)
    make_reply_in_words(cast, theirs)
    send_message(author=cast.other_athlete, submission=theirs, text="Thanks.")
    a_clip(a_submission(cast.athlete, check_back_of=first, question="Is it better now?"))
    return reverse("desk")


PAGES = [
    Look("workbench", "coach", check_back_bench, state="check-back"),
    Look("desk", "coach", desk_with_ask_backs, state="asked-back"),
    Look("submission", "athlete", reply, state="reply"),
    Look("submission", "coach", reply, state="reply"),
    Look("submission", "athlete", reply_in_pain, state="pain"),
    Look("submission", "athlete", reply_of_two_clips, state="two-clips"),
    Look("submission", "athlete", reply_without_clip, state="clip-gone"),
    Look("submission", "athlete", reply_in_words, state="words"),
    Look("submission", "athlete", older_version, state="older"),
    Look("submission", "athlete", asked, state="asked"),
    Look("submission", "coach", asked, state="asked"),
    Look("submission", "athlete", changed_reply, state="changed"),
    Look("athlete-home", "athlete", changed_home, state="changed"),
    Look("submission-clip", "athlete", one_clip),
    Look("submission-clip", "coach", one_clip),
    Look("athlete-home", "athlete", full_home, state="full"),
    Look("athlete-home", "athlete", overdue_home, state="overdue"),
    Look("athlete-home", "athlete", lambda cast: reverse("athlete-home"), state="empty"),
    Look("replies", "athlete", many_replies, state="many"),
    Look("replies", "athlete", lambda cast: reverse("replies"), state="empty"),
]
