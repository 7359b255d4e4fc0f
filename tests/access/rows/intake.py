"""Asking: drafts, uploads, and the files of a clip."""

from base64 import b64encode

from tests.access.expecting import Row, api, athletes_page, everyone, mine, shared
from tests.access.world import World

TUS = {"Tus-Resumable": "1.0.0"}  # tus 1.0.0, "Headers"
BYTES = "application/offset+octet-stream"


def draft(world: World) -> dict[str, object]:
    return {"submission_id": world.draft.pk}


def waiting(world: World) -> dict[str, object]:
    return {"submission_id": world.waiting.pk}


def asked(world: World) -> dict[str, object]:
    return {"submission_id": world.asked.pk}


def draft_clip(world: World) -> dict[str, object]:
    return {"clip_id": world.draft_clip.pk}


def waiting_clip(world: World) -> dict[str, object]:
    return {"clip_id": world.waiting_clip.pk}


def upload(world: World) -> dict[str, object]:
    return {"upload_id": world.upload.pk}


def begin(world: World) -> dict[str, str]:
    clip = b64encode(str(world.draft_clip.pk).encode()).decode()
    name = b64encode(b"squat.mp4").decode()
    return {**TUS, "Upload-Length": "10", "Upload-Metadata": f"clip {clip},filename {name}"}


ROWS = [
    Row("submit", athletes_page(302, coaches=404)),
    Row("submit-draft", mine(200), args=draft),
    Row("submit-draft", mine(200), args=waiting, about="sent, one clip failed"),
    Row("submit-draft", mine(200), args=asked, about="another angle"),
    Row("consent", mine(302), "POST", args=waiting, data=lambda world: {"given": "yes"}),
    Row("clip-media", {**shared(200), "anonymous": 401},
        args=lambda world: {"clip_id": world.waiting_clip.pk, "kind": "frames"}),
    # What was filmed but not sent is nobody else's business, the main coach's included.
    Row("clip-media", {**mine(200), "anonymous": 401}, about="not sent",
        args=lambda world: {"clip_id": world.filmed_clip.pk, "kind": "frames"}),
    Row("uploads", everyone(204), "OPTIONS"),
    Row("uploads", {**mine(201), "anonymous": 401}, "POST", headers=begin),
    Row("upload", {**mine(200), "anonymous": 401}, "HEAD", args=upload, headers=lambda world: TUS),
    Row("upload", {**mine(204), "anonymous": 401}, "PATCH", args=upload, content_type=BYTES,
        data=lambda world: b"12345", headers=lambda world: {**TUS, "Upload-Offset": "0"}),
    Row("upload", {**mine(204), "anonymous": 401}, "DELETE", args=upload,
        headers=lambda world: TUS),
    api("api-submission", mine(200), method="PATCH", args=draft,
        data=lambda world: {"question": "Why?"}),
    api("api-submission", mine(409), method="PATCH", args=waiting,
        data=lambda world: {"question": "Why?"}, about="sent"),
    api("api-send", mine(200), method="POST", args=draft),
    api("api-clips", mine(201), method="POST", args=draft),
    api("api-clips", mine(201), method="POST", args=asked, about="another angle"),
    api("api-clips", mine(404), method="POST", args=waiting, about="sent"),
    api("api-clip", shared(200), args=waiting_clip),
    api("api-clip", mine(200), args=draft_clip, about="not sent"),
    api("api-clip", mine(204), method="PATCH", args=draft_clip, data=lambda world: {"reps": 3}),
    api("api-clip", mine(409), method="PATCH", args=waiting_clip,
        data=lambda world: {"reps": 3}, about="sent"),
    api("api-clip", mine(204), method="DELETE", args=draft_clip),
    api("api-clip-replace", mine(201), method="POST",
        args=lambda world: {"clip_id": world.failed_clip.pk}),
]  # fmt: skip
