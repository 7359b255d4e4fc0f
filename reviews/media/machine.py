"""Which failures are the machine's and not the file's: its disk, its memory, a missing program."""

import errno
import re
import shutil
from pathlib import Path
from typing import Literal

from reviews.media.refusals import Interrupted

Part = Literal["disk", "memory", "program", "storage"]

_BY_NUMBER: dict[int, Part] = {
    errno.ENOSPC: "disk",
    errno.EDQUOT: "disk",
    errno.EROFS: "disk",
    errno.EIO: "disk",
    errno.ENOMEM: "memory",
}
# As SQLite and PostgreSQL (SQLSTATE 53100) say it, and as ffmpeg does.
_FULL = re.compile(r"disk is full|No space left on device|Disk quota exceeded")
_OOM = re.compile(r"^oom_kill (\d+)$", re.MULTILINE)


class MachineFault(Interrupted):
    """Nothing is wrong with the file, and trying again at once would change nothing. `part` is
    what somebody has to put right."""

    def __init__(self, part: Part, detail: str) -> None:
        super().__init__(detail)
        self.part = part


def part_at_fault(error: BaseException | None) -> Part | None:
    """The part behind an error or what it came from; None when the machine seems well."""
    while error is not None:
        if isinstance(error, MachineFault):
            return error.part
        if isinstance(error, MemoryError):
            return "memory"
        if isinstance(error, OSError) and error.errno in _BY_NUMBER:
            return _BY_NUMBER[error.errno]
        if _FULL.search(str(error)):
            return "disk"
        error = error.__cause__ or error.__context__
    return None


def interrupted(error: BaseException) -> Interrupted:
    """The error as what it means for a clip."""
    part, detail = part_at_fault(error), f"{type(error).__name__}: {error}"
    return MachineFault(part, detail) if part else Interrupted(detail)


def has_room(folder: Path, size: int) -> bool:
    """Whether `size` bytes more fit onto the disk of `folder`, which may not exist yet."""
    there = next(path for path in (folder, *folder.absolute().parents) if path.is_dir())
    return shutil.disk_usage(there).free >= size


def out_of_memory_kills() -> int:
    """How often the kernel ended a process for want of memory since it started; 0 if unknown."""
    try:
        count = _OOM.search(Path("/proc/vmstat").read_text())
    except OSError:
        return 0
    return int(count[1]) if count else 0
