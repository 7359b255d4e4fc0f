"""Put what was made where it is served from, then say so: files first, the row last."""

import errno
import json
import os
import shutil
from pathlib import Path
from typing import Any

from django.core.files import File
from django.core.files.storage import Storage, default_storage
from django.db import transaction

from reviews.intake import angles, jobs
from reviews.intake.locking import lock_submission_of
from reviews.intake.models import Clip, ClipState, MediaJob
from reviews.intake.models.clip import derived_folder, folder_of
from reviews.media.made import FACTS

Facts = dict[str, Any]  # the JSON of reviews.media.made.Made

STAGING = "staging"  # in the storage's own folder, so that a rename from it is atomic


def already_made(sha256: str, recipe: int) -> Facts | None:
    """The facts of an earlier, complete making of the same bytes by the same recipe."""
    try:
        with default_storage.open(f"{derived_folder(sha256, recipe)}/{FACTS}") as file:
            return dict(json.load(file))
    except FileNotFoundError:
        return None


def store(made: Path, *, sha256: str, recipe: int, holder: str) -> None:
    """Copy the folder `made` into storage; the facts come last and say that all is there."""
    folder = derived_folder(sha256, recipe)
    names = sorted((path.name for path in made.iterdir()), key=lambda name: name == FACTS)
    for name in names:
        _put(default_storage, f"{folder}/{name}", made / name, holder)


def publish(job: MediaJob, facts: Facts) -> None:
    """Make the clip playable and close its job, in one transaction.

    Raises LostLease when this attempt no longer counts: its lease went to another, or the clip was
    removed. A clip that is playable already keeps its frame table. One that a coach asked for
    brings its question back to the queue.
    """
    with transaction.atomic():
        lock_submission_of(job.clip_id)
        jobs.finish(job)
        clip = Clip.objects.select_for_update().get(pk=job.clip_id)
        if clip.is_playable:
            return
        clip.state, clip.reason, clip.recipe = ClipState.PLAYABLE, "", job.recipe
        clip.frames, clip.made = facts["frames"], facts
        clip.save(update_fields=["state", "reason", "recipe", "frames", "made"])
        angles.came(clip=clip)


def remove_unused(sha256: str) -> None:
    """Delete what was derived from these bytes, of every recipe, when no clip is made of them."""
    if not sha256 or Clip.objects.filter(sha256=sha256).exists():
        return
    _remove_folder(default_storage, folder_of(sha256))


def staging_folder(holder: str = "") -> Path | None:
    """Where files of `holder` wait for their rename; None when the storage is not a folder."""
    try:
        return Path(default_storage.path(f"{STAGING}/{holder}"))
    except NotImplementedError:
        return None


def _remove_folder(storage: Storage, folder: str) -> None:
    try:
        folders, names = storage.listdir(folder)
    except FileNotFoundError:
        return
    for name in folders:
        _remove_folder(storage, f"{folder}/{name}")
    for name in sorted(names, key=lambda name: name != FACTS):  # what says that all is there
        storage.delete(f"{folder}/{name}")
    storage.delete(folder)  # a folder of its own only where the storage has such a thing


def _put(storage: Storage, name: str, path: Path, holder: str) -> None:
    """Store the file `path` as `name`, replacing what is there; no reader sees a part of it."""
    staging = staging_folder(holder)
    if staging is not None:
        _move(path, Path(storage.path(name)), staging)
        return
    if storage.exists(name):  # left by an attempt that ended before its facts
        storage.delete(name)
    with path.open("rb") as file:
        stored = storage.save(name, File(file))
    if stored != name:
        storage.delete(stored)
        raise OSError(f"{name} was stored by another attempt at the same time")


def _move(path: Path, target: Path, staging: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        path.replace(target)
    except OSError as error:
        if error.errno != errno.EXDEV:
            raise
        staging.mkdir(parents=True, exist_ok=True)
        part = staging / path.name
        shutil.copyfile(path, part)
        with part.open("rb") as file:
            os.fsync(file.fileno())  # or a power cut leaves a playable clip without a file
        part.replace(target)
