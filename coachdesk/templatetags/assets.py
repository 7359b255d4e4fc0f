"""Scripts and style sheets of a page, bundled where static files were collected so."""

from django import template
from django.contrib.staticfiles.storage import staticfiles_storage
from django.templatetags.static import static
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from coachdesk.modules import bundle_name, names_reached, sheet_file, sheets_name

register = template.Library()


@register.simple_tag
def module(entry: str, late: bool = False) -> SafeString:
    """A module script: one file where they were collected so, else the modules as they are, all
    announced at once, or the browser learns of each only when it has read what imports it.

    `late`: it stands behind all that it works on, and runs without waiting for the style sheets.
    """
    bundled = _made(bundle_name(entry))
    names = [bundle_name(entry)] if bundled else names_reached(entry)
    first, *rest = [static(name) for name in names]
    links = format_html_join("", '<link rel="modulepreload" href="{}">', ((url,) for url in rest))
    script = '{}<script type="module" async src="{}"></script>'
    return format_html(script if late else script.replace(" async", ""), links, first)


@register.simple_tag
def sheets(*names: str) -> SafeString:
    """Style sheets that a page cannot wait for one by one: one file where they were collected so,
    else the sheets as they are."""
    whole = sheets_name(names)
    urls = [whole] if _made(whole) else map(sheet_file, names)
    return format_html_join(
        "", '<link rel="stylesheet" href="{}">', ((static(name),) for name in urls)
    )


def _made(name: str) -> bool:
    made = getattr(staticfiles_storage, "made", None)  # only the hashed storage makes any
    return bool(made and made(name))
