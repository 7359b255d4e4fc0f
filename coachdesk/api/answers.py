"""The answers of views whose JSON is shared with a page: what `described` says of them.

Kept from going stale by schemathesis, which holds every answer to these shapes.
"""

from typing import Any

from coachdesk.api.shapes import (
    MOMENT,
    NUMBER,
    TEXT,
    TRUTH,
    UUID,
    WHOLE,
    Shape,
    either,
    many,
    maybe,
    thing,
)

LOAD = thing(value=TEXT, unit=either("kg", "lb"))

CLAIM = thing(coach=TEXT, taken_at=MOMENT, until=MOMENT)
RELEASED = thing(released=TRUTH)
LIBRARY = thing(
    faults=many(
        thing(
            id=WHOLE,
            name=TEXT,
            phase=TEXT,
            family=TEXT,
            breaks=TEXT,
            cues=many(thing(id=WHOLE, text=TEXT)),
            drills=many(thing(id=WHOLE, name=TEXT, dose=TEXT)),
        )
    )
)

SAVED = thing(saved_at=MOMENT)
SENT = thing(state=TEXT, url=TEXT)
CARD = thing(
    id=UUID,
    url=TEXT,
    position=WHOLE,
    state=TEXT,
    reason=TEXT,
    progress=NUMBER,
    poster=TEXT,
    filename=TEXT,
    size=WHOLE,
    upload=maybe(thing(url=TEXT, offset=WHOLE, length=WHOLE)),
    movement=maybe(WHOLE),
    load=LOAD,
    reps=maybe(WHOLE),
    rpe=maybe(TEXT),
    reps_in_reserve=maybe(WHOLE),
    view=TEXT,
    shows_fault=TRUTH,
    locked=TRUTH,
)

# Files of a clip: see `reviews.media.frames` and `reviews.media.pictures`.
FRAME_TABLE = thing(
    version=WHOLE, timescale=WHOLE, pts=many(WHOLE), duration=WHOLE, time_scale=NUMBER
)
WAVEFORM = thing(version=WHOLE, seconds=NUMBER, peaks=many(WHOLE))
BYTES = {"type": "string", "format": "binary"}
FILM = {"video/mp4", "video/quicktime", "video/matroska", "video/webm"}
FILE: dict[Any, Shape | None] = {
    **{(200, kind): BYTES for kind in sorted({*FILM, "image/jpeg"})},
    (200, "application/json"): {"oneOf": [FRAME_TABLE, WAVEFORM]},
    **{(206, kind): BYTES for kind in sorted({*FILM, "image/jpeg", "application/json"})},
    **dict.fromkeys((304, 412, 416)),
}
