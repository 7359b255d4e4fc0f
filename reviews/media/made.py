"""What a processed clip consists of."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from reviews.media.pictures import Filmstrip

FACTS = "made.json"


@dataclass(frozen=True, kw_only=True)
class Made:
    """The derived files of one clip and the facts a page needs.

    `files` maps what it is (playable, poster, filmstrip, frames, original, and waveform when there
    is sound) to its name within the folder. `seconds` runs from the first frame to the end of the
    last; `timescale` is ticks per second of the frame table.
    """

    files: dict[str, str]
    frames: int
    width: int
    height: int
    seconds: float
    timescale: int
    time_scale: float
    filmstrip: Filmstrip
    remuxed: bool
    recipe: str
    source: dict[str, Any]

    def to_json(self) -> dict[str, Any]:
        return asdict(self)

    def save(self, folder: Path) -> None:
        (folder / FACTS).write_text(json.dumps(self.to_json(), indent=1))


def load(folder: Path) -> Made | None:
    """What was made in `folder`, or None when nothing was."""
    try:
        facts = json.loads((folder / FACTS).read_text())
    except FileNotFoundError:
        return None
    return Made(**facts | {"filmstrip": Filmstrip(**facts["filmstrip"])})
