"""Static files under content-hashed names; a page's modules and its style sheets as one file."""

from typing import Any

from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

from coachdesk.bundle import bundle
from coachdesk.modules import STATIC, bundle_name, entries, sheet_file, sheets, sheets_name


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    """Hashes names, so that files cache for ever and those of an older page stay beside the new."""

    keep_only_hashed_files = True  # nobody asks for the others

    def post_process(self, paths: dict[str, Any], dry_run: bool = False, **options: Any) -> Any:
        """Make the bundles, then hash and compress them like every other file."""
        if not dry_run:
            for name in [name for name in paths if (STATIC / "js") in (STATIC / name).parents]:
                self.delete(name)  # pages load bundles, and a view serves the service worker
                paths.pop(name)
            made = {bundle_name(entry): bundle(STATIC / entry) for entry in entries()}
            made |= {
                sheets_name(names): "".join(
                    (STATIC / sheet_file(name)).read_text() for name in names
                )
                for names in sheets()
            }
            for name, text in made.items():
                self.delete(name)
                self.save(name, ContentFile(text))
                paths[name] = (self, name)
        yield from super().post_process(paths, dry_run=dry_run, **options)

    def made(self, name: str) -> bool:
        """Whether a bundle of this name was collected."""
        return name in self.hashed_files
