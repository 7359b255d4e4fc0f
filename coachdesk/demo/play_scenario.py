"""Draw the clips, send them in the real way, and answer what the coaches have answered."""

import os
import shutil
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from coachdesk.common.paths import DATA
from coachdesk.demo.create_club import WEEK, found
from coachdesk.demo.drawing.drawn_clip import draw_clip
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.scenario import Ask, Shot
from coachdesk.demo.write_reply import answer, hold
from coachdesk.runner.children import end_with
from reviews.intake.finishing import finish
from reviews.intake.models import Clip, ClipState, State, Submission
from reviews.intake.partial import Partial
from reviews.intake.uploads import begin

SETTLE_SECONDS = 900
FOLDER = DATA / "demo"


def spec_of(shot: Shot, seed: int, look: int) -> ClipSpec:
    """What the drawing needs to know; the lying lift is filmed in landscape, the others upright."""
    size = (960, 540) if shot.lift == "bench_press" else (540, 960)
    return ClipSpec(
        lift=shot.lift,
        variant=shot.kind,
        view=shot.view,
        load_kg=shot.load,
        best_kg=shot.best,
        reps=shot.reps,
        faults=dict(shot.faults),
        profile=shot.profile,
        seconds=4.0 if shot.profile == "slow240" else None,
        size=size,
        seed=seed,
        look=look,
    )


def submissions() -> list[tuple[Ask, Submission]]:
    """Each question of the scenario with its row, in the scenario's order."""
    rows = Submission.objects.filter(club=found()).order_by("created_at", "pk")
    return list(zip(WEEK, rows, strict=False))


def undrawn() -> Iterator[tuple[Clip, Shot, ClipSpec]]:
    people = sorted({ask.who for ask in WEEK})
    for number, (ask, submission) in enumerate(submissions()):
        clips = submission.clips.order_by("position")
        for place, (shot, clip) in enumerate(zip(ask.shots, clips, strict=False)):
            if not clip.original and clip.state == ClipState.RECEIVING:
                look = people.index(ask.who) + 1
                yield clip, shot, spec_of(shot, number * 10 + place + 1, look)


def play(say: Callable[[str], None]) -> None:
    """Everything that is not done yet; started again after a stop it goes on where it was."""
    os.nice(10)  # the newcomer who clicks around comes first
    FOLDER.mkdir(parents=True, exist_ok=True)
    todo = list(undrawn())
    spawn = get_context("spawn")
    with ProcessPoolExecutor(2, spawn, initializer=end_with, initargs=(os.getpid(),)) as pool:
        drawn = [pool.submit(draw_clip, spec, FOLDER / str(clip.pk)) for clip, _, spec in todo]
        for done, ((clip, shot, _), future) in enumerate(zip(todo, drawn, strict=True), 1):
            send_in(clip, future.result().video, cut_short=shot.cut_short)
            say(f"clip {done} of {len(todo)} drawn and sent")
            answer_what_is_ready(say)
    until = time.monotonic() + SETTLE_SECONDS
    while answer_what_is_ready(say) and time.monotonic() < until:
        time.sleep(1)


def send_in(clip: Clip, video: Path, *, cut_short: bool) -> None:
    """As an upload: begun, received to the last byte, finished. The truth stays beside."""
    if cut_short:
        os.truncate(video, video.stat().st_size * 6 // 10)
    upload = begin(
        owner=clip.submission.athlete,
        clip_id=clip.pk,
        length=video.stat().st_size,
        filename=f"lift-{clip.position}{video.suffix}",
        metadata="",
    )
    shutil.copyfile(video, Partial(upload.id).path)
    finish(upload)
    video.unlink()


def answer_what_is_ready(say: Callable[[str], None]) -> int:
    """Answer where every clip is settled; how many answers are still to come."""
    left = 0
    for ask, submission in submissions():
        if ask.claimed_by:
            hold(submission, ask.claimed_by)
        if ask.answer is None or submission.state != State.WAITING:
            continue
        if submission.clips.exclude(state=ClipState.PLAYABLE).exists():
            left += 1
            continue
        answer(submission, ask.answer, FOLDER)
        say(f"{ask.answer.coach} answered {submission.athlete}")
    return left
