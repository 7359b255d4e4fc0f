"""Learn what a file is, at arm's length: libav runs in a limited process of its own."""

import json
import sys
from pathlib import Path

from reviews.media import header
from reviews.media.limits import Limits
from reviews.media.refusals import Interrupted, Refused
from reviews.media.run import run
from reviews.media.sniff import sniff
from reviews.media.source import Source, source_from_json

_CHILD = str(Path(__file__).with_name("probe_child.py"))


def probe(path: Path, limits: Limits) -> Source:
    """The facts about `path`. Raises Refused when no plan could make it playable."""
    if path.stat().st_size > limits.max_bytes:
        raise Refused("too_many_bytes")
    demuxer = sniff(path)
    if demuxer == "mov":
        header.check(path, limits)
    bounds = (limits.max_streams, limits.max_frames, limits.max_seconds, limits.max_pixels)
    ran = run(
        [sys.executable, "-I", _CHILD, str(path), demuxer, *map(str, bounds)],
        folder=path.parent,
        limits=limits,
        wall_seconds=limits.wall_seconds,
        stall_seconds=limits.probe_seconds,
    )
    if ran.status < 0:
        raise Refused("damaged", f"probe was ended by signal {-ran.status}")
    if ran.status > 0:
        raise Interrupted(f"probe ended with {ran.status}: {ran.errors[-500:]}")
    facts = json.loads(ran.output)
    if "refused" in facts:
        raise Refused(facts["refused"], facts.get("detail", ""))
    return source_from_json(facts)
