"""A whole review for the workbench without a server behind it: what the page embeds."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import av
from PIL import Image

SUBMISSION = "6f1f6b2e-0000-4000-8000-000000000001"
CLIPS = ["6f1f6b2e-0000-4000-8000-00000000000a", "6f1f6b2e-0000-4000-8000-00000000000b"]
NOTES = ["6f1f6b2e-0000-4000-8000-0000000000c1", "6f1f6b2e-0000-4000-8000-0000000000c2"]
TILE = (54, 96)

FAULTS = [
    {
        "id": 11, "name": "Hips rise first", "phase": "ascent",
        "cues": [{"id": 22, "text": "Shove the bar back into the wall."}], "drills": [],
    },
    {
        "id": 12, "name": "Loose brace", "phase": "setup",
        "cues": [{"id": 21, "text": "Push the belt out all the way round"}],
        "drills": [{"id": 31, "name": "Beltless squat", "dose": "3 × 5"}],
    },
]  # fmt: skip


def filmstrip(clip: Path, frames: list[int], to: Path) -> dict[str, Any]:
    """Sprite of the frames named, one row."""
    sheet = Image.new("RGB", (TILE[0] * len(frames), TILE[1]))
    with av.open(str(clip)) as box:
        for number, frame in enumerate(box.decode(video=0)):
            if number in frames:
                sheet.paste(frame.to_image().resize(TILE), (frames.index(number) * TILE[0], 0))
    sheet.save(to, "JPEG", quality=80)
    size = {"tile_width": TILE[0], "tile_height": TILE[1], "columns": len(frames)}
    return {"url": f"/clips/{to.name}", "count": len(frames), "frames": frames, **size}


def clip(number: int, name: str, film: dict[str, Any], **facts: Any) -> dict[str, Any]:
    """One clip as the page embeds it."""
    return {
        "id": CLIPS[number - 1], "position": number, "movement": "Low-bar squat",
        "family": "squat", "phases": ["setup", "descent", "turnaround", "ascent", "lockout"],
        "load": "150", "unit": "kg", "reps": 3, "rpe": "8", "view": "side",
        "shows_fault": number == 1, "status": "playable", "progress": 1, "reason": "",
        "playable": f"/clips/{name}.mp4", "frames_url": f"/clips/{name}.json", "poster": "",
        "filmstrip": film, "width": 360, "height": 640, "frame_count": 120, **facts,
    }  # fmt: skip


def note(number: int, frame: int, **facts: Any) -> dict[str, Any]:
    """One note as the page embeds it."""
    return {
        "id": NOTES[number], "clip": CLIPS[0], "first_frame": frame, "last_frame": frame,
        "phase": None, "rep": None, "text": "", "fault": None, "fault_name": "", "cue": None,
        "cue_text": "", "drill": None, "drill_text": "", "rank": None, **facts,
    }  # fmt: skip


def review(film: dict[str, Any], **facts: Any) -> dict[str, Any]:
    """A submission of two clips with a note, a call and a half-written reply."""
    hips = note(
        0, 84, phase="ascent", rep=3, fault=11, fault_name="Hips rise first", rank=1,
        text="The bar is 4 cm ahead of the foot at the turnaround; the back takes what the legs "
        "give up.", cue=22, cue_text="Shove the bar back into the wall.",
    )  # fmt: skip
    whole = {
        "submission": {
            "id": SUBMISSION, "question": "Why do I tip forward on the last rep?",
            "tried": "wider stance, heels up 5 mm.", "goal": "total", "status": "claimed",
            "athlete": {"id": 1, "name": "Dario Pellegrin"}, "pain": None, "asked_at": "",
        },
        "urls": {
            "state": "/api/state", "desk": "/desk/", "publish": "/api/publish",
            "claim": "/api/claim", "library": "/api/library", "note": "/api/notes/__id__/",
            "rep": "/api/clips/__clip__/reps/__rep__/", "reply": "/api/reply/",
        },
        "clips": [clip(1, "variable", film), clip(2, "constant", film, load="120", rpe="6")],
        "notes": [hips, note(1, 30, rep=1, phase="descent", text="Knees travel in a little.")],
        "rep_calls": [
            {"clip": CLIPS[0], "rep": 1, "call": "standard", "faults": [],
             "first_frame": 10, "last_frame": 40},
            {"clip": CLIPS[0], "rep": 3, "call": "not-standard", "faults": [11],
             "first_frame": 75, "last_frame": 112},
        ],
        "reply": {"opening": "", "film_again_by": None, "film_again_note": "",
                  "published": False, "version": 0},
        "claim": {"coach": "Tove Lindqvist", "mine": True, "until": ""},
        "may_publish": {"ok": False, "why": "Call rep 2 before this can go."},
    }  # fmt: skip
    return {**whole, **facts}
