"""Static files under content-hashed names; a page's modules as one file."""

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

from coachdesk.bundle import bundle, entries


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    """Hashes names, so that files cache for ever and those of an older page stay beside the new."""

    keep_only_hashed_files = True  # nobody asks for the others

    def post_process(self, paths: dict[str, Any], dry_run: bool = False, **options: Any) -> Any:
        """Make the bundles, then hash and compress them like every other file."""
        if not dry_run:
            for name in [name for name in paths if name.startswith("js/")]:
                self.delete(name)  # pages load bundles, and a view serves the service worker
                paths.pop(name)
            with TemporaryDirectory() as scratch:
                for path in bundle(entries(), Path(scratch)):
                    name = path.relative_to(scratch).as_posix()
                    self.delete(name)
                    self.save(name, ContentFile(path.read_bytes()))
                    paths[name] = (self, name)
        yield from super().post_process(paths, dry_run=dry_run, **options)
