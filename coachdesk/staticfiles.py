"""Static files under content-hashed names; a page's modules and its style sheets as one file."""

from typing import Any

from django.contrib.staticfiles.storage import HashedFilesMixin
from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

from coachdesk.bundle import bundle
from coachdesk.modules import STATIC, bundle_name, entries, sheets, sheets_name

PATTERNS: Any = HashedFilesMixin._js_module_import_aggregation_patterns  # type: ignore[attr-defined]
MODULES, RULES = PATTERNS


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    """Hashes names so that files cache for ever, and rewrites relative module imports to match."""

    support_js_module_import_aggregation = True
    # Our scripts load statically. The rule for import("...") is left out: it also reads the types
    # in comments, which may point in circles that no hash can settle.
    _js_module_import_aggregation_patterns = (
        MODULES,
        tuple(rule for rule in RULES if not rule[1].startswith("import(")),
    )
    max_post_process_passes = 12  # a pass settles one level of imports

    def post_process(self, paths: dict[str, Any], dry_run: bool = False, **options: Any) -> Any:
        """Make the bundles, then hash and compress them like every other file."""
        if not dry_run:
            made = {bundle_name(entry): bundle(STATIC / entry) for entry in entries()}
            made |= {
                sheets_name(names): "".join((STATIC / name).read_text() for name in names)
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
