"""The workbench, in the states a coach meets."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from django.urls import reverse

from reviews.desk.claiming import claim
from reviews.intake.models import ClipState
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.save_note import save_note
from tests.browser.pages import Look
from tests.browser.player import clips, factories
from tests.conftest import Cast

LONG = (
    "My hips leave the bench on the last two. Where do my feet go, and does it matter if I only "
    "ever train touch and go, or should I change that first and look at the feet later?"
)


@cache
def source(name: str) -> Path:
    """A clip with a burnt-in counter as a phone would send it, encoded once."""
    path = Path(tempfile.mkdtemp()) / f"{name}.mp4"
    if name == "wide":
        clips.write(path, clips.constant(90), size=(640, 360), b_frames=0)
    else:
        clips.write(path, {"constant": clips.constant, "variable": clips.variable}[name]())
    return path


def empty(cast: Cast) -> str:
    """Nothing noted yet, a portrait clip of variable rate and a landscape one."""
    submission = factories.make_submission(cast.athlete)
    factories.make_clip(submission, source("variable"))
    factories.make_clip(submission, source("wide"), load_kg=120, view="front")
    return reverse("workbench", args=[submission.pk])


def half_way(cast: Cast) -> str:
    """Pain, a long question, notes, a call, one rep not to standard."""
    submission = factories.make_submission(cast.athlete, pain=True, question=LONG, tried="")
    clip = factories.make_clip(submission, source("wide"))
    claim(submission=submission, coach=cast.coach)
    for number, (frame, rank) in enumerate([(40, 1), (12, 2), (70, None)], start=1):
        seen = {
            "clip_id": clip.pk,
            "first_frame": frame,
            "last_frame": frame + 5,
            "phase": "ascent",
            "rep": number,
            "text": "The bar is ahead of the foot; the back takes what the legs give up.",
            "rank": rank,
        }
        save_note(coach=cast.coach, note_id=factories.note_id(number), **seen)
    verdict = {"call": "not-standard", "first_frame": 30, "last_frame": 60}
    call_rep(coach=cast.coach, clip_id=clip.pk, rep=1, **verdict)
    return reverse("workbench", args=[submission.pk])


LONG_NAME = "Maximiliane Oyelaran-Szczepaniak von Hohenfelden-Wurmbrandstuppach"


def twelve_clips(cast: Cast, shape: str = "wide") -> str:
    """As many clips as are allowed, a very long name and a very long question."""
    cast.athlete.name = LONG_NAME
    cast.athlete.save()
    submission = factories.make_submission(cast.athlete, question=" ".join([LONG] * 6), tried=LONG)
    factories.make_more_clips(factories.make_clip(submission, source(shape)), 11)
    return reverse("workbench", args=[submission.pk])


def held(cast: Cast) -> str:
    """Another coach has it; the only clip is still being made."""
    submission = factories.make_submission(cast.athlete)
    clip = factories.make_clip(submission, source("constant"))
    clip.state = ClipState.PROCESSING
    clip.save()
    claim(submission=submission, coach=cast.second_coach)
    return reverse("workbench", args=[submission.pk])


PAGES = [
    Look("workbench", "coach", empty),
    Look("workbench", "coach", half_way, state="half-way"),
    Look("workbench", "coach", held, state="held"),
    Look("workbench", "coach", twelve_clips, state="twelve-clips"),
]
