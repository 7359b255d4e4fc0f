"""The answers of views whose JSON is shared with a page: what `described` says of them.

Kept from going stale by schemathesis, which holds every answer to these shapes.
"""

from typing import Any

from coachdesk.api.shapes import (
    DAY,
    MOMENT,
    NUMBER,
    TEXT,
    TRUTH,
    UUID,
    WHOLE,
    Shape,
    by_name,
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


SESSION = thing(
    id=UUID,
    planned=maybe(UUID),
    day=DAY,
    session_rpe=maybe(TEXT),
    minutes=maybe(WHOLE),
    note=TEXT,
    started_at=MOMENT,
    finished_at=maybe(MOMENT),
    revision=WHOLE,
)
SET = thing(
    id=UUID,
    session=UUID,
    movement=WHOLE,
    prescription=maybe(UUID),
    position=WHOLE,
    load=maybe(TEXT),
    unit=either("kg", "lb"),
    reps=WHOLE,
    missed_reps=WHOLE,
    rpe=maybe(TEXT),
    note=TEXT,
    done_at=MOMENT,
    revision=WHOLE,
)
GONE = thing(gone=TRUTH, as_of=MOMENT)  # it was taken out meanwhile, here or on another phone
SESSION_STORED = {"oneOf": [thing(session=SESSION, as_of=MOMENT), GONE]}
SET_STORED = {"oneOf": [thing(set=SET, as_of=MOMENT), GONE]}
WEIGHT_STORED = thing(day=DAY, kg=maybe(TEXT), as_of=MOMENT)
LINE = thing(
    id=UUID,
    movement=WHOLE,
    sets=WHOLE,
    reps=WHOLE,
    target=TEXT,
    load=maybe(TEXT),
    side=maybe(many(TEXT)),
    how=TEXT,
    suggested=TRUTH,
    capped=TRUTH,
    rpe=maybe(TEXT),
    tempo=TEXT,
    rest=maybe(WHOLE),
    note=TEXT,
    held=TRUTH,
    changes=many(thing(said=TEXT, by=TEXT, was=maybe(TEXT))),
)
TODAY = thing(
    athlete=WHOLE,
    unit=either("kg", "lb"),
    zone=TEXT,
    today=DAY,
    as_of=MOMENT,
    plates=thing(
        unit=either("kg", "lb"), bar=TEXT, pairs=many(many({"type": ["string", "integer"]}))
    ),
    movements=many(thing(id=WHOLE, name=TEXT, family=TEXT)),
    planned=many(
        thing(
            id=UUID,
            log=UUID,
            first_revision=WHOLE,
            name=TEXT,
            programme=TEXT,
            day=DAY,
            note=TEXT,
            lines=many(LINE),
        )
    ),
    logs=many(thing(**SESSION["properties"], sets=many(SET))),
    last=by_name(thing(day=DAY, words=TEXT, load=maybe(TEXT), reps=WHOLE)),
    unusual=thing(above=TEXT, question=TEXT, known_kg=by_name(TEXT)),
    efforts=many(thing(value=WHOLE, word=TEXT)),
    weights=many(thing(day=DAY, weight=TEXT)),
    urls=by_name(TEXT),
)
CELLS = thing(
    revision=WHOLE,
    cells=by_name(thing(text=TEXT, kg=maybe(TEXT), how=TEXT, html=TEXT)),
    sets=by_name(WHOLE),
    refused=by_name(TEXT),
)
