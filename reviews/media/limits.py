"""How much one clip may ask of the machine."""

from dataclasses import dataclass

GIB = 1024**3


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Bounds for one clip. The defaults suit a small machine; settings pass their own.

    `max_pixels` admits 8K (7680 x 4320) but not 8192 x 8192, which costs 1.5 GB to decode.
    `memory` bounds address space, not resident memory, so it is generous.
    """

    max_bytes: int = 4 * GIB
    max_seconds: float = 900.0
    max_frames: int = 250_000
    max_pixels: int = 7680 * 4320
    max_streams: int = 24
    memory: int = 6 * GIB
    output_bytes: int = 8 * GIB
    cpu_seconds: int = 4 * 3600
    open_files: int = 64
    probe_seconds: float = 25.0
    stall_seconds: float = 25.0
    wall_seconds: float = 2 * 3600.0
