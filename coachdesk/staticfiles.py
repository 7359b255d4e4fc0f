"""Static files under content-hashed names, ES module imports included."""

from typing import Any

from django.contrib.staticfiles.storage import HashedFilesMixin
from whitenoise.storage import CompressedManifestStaticFilesStorage

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
