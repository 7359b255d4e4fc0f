"""Static files under content-hashed names, a page's ES modules as one file."""

from typing import Any

from django.contrib.staticfiles.storage import HashedFilesMixin
from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

from coachdesk.bundle import bundle
from coachdesk.modules import STATIC, bundle_name, entries

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
            for entry in entries():
                name = bundle_name(entry)
                self.delete(name)
                self.save(name, ContentFile(bundle(STATIC / entry)))
                paths[name] = (self, name)
        yield from super().post_process(paths, dry_run=dry_run, **options)

    def bundled(self, entry: str) -> bool:
        """Whether this entry was collected as one file."""
        return bundle_name(entry) in self.hashed_files
