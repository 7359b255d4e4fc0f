"""Which ffmpeg this machine uses."""

import os
from functools import cache
from pathlib import Path

import imageio_ffmpeg

from reviews.media.machine import MachineFault


@cache
def ffmpeg_exe() -> str:
    """Absolute path of ffmpeg: COACHDESK_FFMPEG, or the static one that the wheel brings.

    Raises MachineFault when neither is there: the clip is fine, the machine is not.
    """
    wanted = os.environ.get("COACHDESK_FFMPEG", "")
    if wanted:
        if not os.access(wanted, os.X_OK):
            raise MachineFault("program", f"COACHDESK_FFMPEG names {wanted}, which cannot be run")
        return str(Path(wanted).resolve())
    try:
        return str(imageio_ffmpeg.get_ffmpeg_exe())
    except RuntimeError as error:
        raise MachineFault("program", f"no ffmpeg on this machine: {error}") from error
