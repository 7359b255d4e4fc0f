"""Small real videos for the submit page: a test pattern in H.264, encoded by the ffmpeg wheel."""

import subprocess
from pathlib import Path

import imageio_ffmpeg


def video(folder: Path, name: str = "set.mp4", *, seconds: int = 2, noise_mb: int = 0) -> Path:
    """A playable MP4; `noise_mb` more megabytes in a `free` box make it slow to send.

    A `free` box holds nothing and readers skip it (ISO/IEC 14496-12, 8.1.2; from memory).
    """
    path = folder / name
    command = [imageio_ffmpeg.get_ffmpeg_exe(), "-v", "error", "-y", "-f", "lavfi"]
    command += ["-i", f"testsrc2=size=180x320:rate=30:duration={seconds}", "-pix_fmt", "yuv420p"]
    subprocess.run([*command, "-preset", "ultrafast", str(path)], check=True, timeout=60)
    if noise_mb:
        size = noise_mb * 1024**2
        with path.open("ab") as file:
            file.write(size.to_bytes(4) + b"free" + bytes(size - 8))
    return path
