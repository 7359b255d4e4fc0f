"""The library's pages: reading in ``reading``, changing in ``changing`` and ``hanging``."""
