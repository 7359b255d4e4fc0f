"""Static files under content-hashed names, ES module imports included."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    """Hashes names so that files cache for ever, and rewrites relative module imports to match."""

    support_js_module_import_aggregation = True
