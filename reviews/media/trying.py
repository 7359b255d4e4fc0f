"""Try one file without a server: the same code as the worker's, the answer as one object."""

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviews.media.limits import Limits
from reviews.media.made import FACTS, Made
from reviews.media.process import process
from reviews.media.refusals import Interrupted, Refused

_TROUBLE = "The machine, not the file, is in trouble: {}. Put that right and try again."


def try_clip(source: Path, out: Path, limits: Limits) -> dict[str, Any]:
    """Process `source` into the folder `out` and say how it went.

    Files of an earlier try in `out` are replaced; a failed try leaves `out` as it was. The answer
    has outcome, reason, source, frames, width, height, seconds and outputs.
    """
    answer: dict[str, Any] = {"outcome": "failed", "reason": None, "source": str(source)}
    answer |= dict.fromkeys(("frames", "width", "height", "seconds")) | {"outputs": {}}
    try:
        with TemporaryDirectory(prefix=".try-", dir=_nearest_folder(out)) as scratch:
            made = process(source, Path(scratch) / "made", on_progress=_ignore, limits=limits)
            answer["outputs"] = _place(made, Path(scratch) / "made", out)
    except Refused as refused:
        return answer | {"reason": refused.sentence}
    except (Interrupted, OSError) as trouble:
        return answer | {"reason": _TROUBLE.format(trouble)}
    facts = {name: getattr(made, name) for name in ("frames", "width", "height", "seconds")}
    return answer | {"outcome": "playable"} | facts


def _place(made: Made, folder: Path, out: Path) -> dict[str, str]:
    out.mkdir(parents=True, exist_ok=True)
    if "waveform" not in made.files:
        (out / "waveform.json").unlink(missing_ok=True)
    for stale in out.glob("original-clean.*"):
        stale.unlink()
    for name in (*made.files.values(), FACTS):
        (folder / name).replace(out / name)
    return {what: str(out / name) for what, name in made.files.items()}


def _nearest_folder(path: Path) -> Path:
    """`path`, or the first folder above it that exists: the same disk, nothing left behind."""
    return next(folder for folder in (path, *path.absolute().parents) if folder.is_dir())


def _ignore(_share: float) -> None:
    """Nobody watches."""
