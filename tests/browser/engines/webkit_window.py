#!/usr/bin/python3
"""A bare window of WebKitGTK that Debian's WebKitWebDriver starts and drives.

MiniBrowser, which comes with the driver, is never narrower than its own buttons (447 px), and while
it is driven it keeps what a page writes to its console to itself. This one is the page and nothing
else, and its console goes to standard output. It runs under the system's own Python: the bindings
are Debian packages.
"""

import os
import tempfile

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402


def main() -> None:
    # Kept in a folder of its own, not in memory: a window that keeps nothing has no console either.
    kept = tempfile.mkdtemp(dir=os.environ["COACHDESK_WINDOW_FOLDER"])
    manager = WebKit2.WebsiteDataManager(base_data_directory=kept, base_cache_directory=kept)
    context = WebKit2.WebContext.new_with_website_data_manager(manager)
    context.set_preferred_languages(["en-GB"])
    context.set_automation_allowed(True)
    context.connect("automation-started", automation_started)
    Gtk.main()


def automation_started(context: WebKit2.WebContext, session: WebKit2.AutomationSession) -> None:
    about = WebKit2.ApplicationInfo.new()
    about.set_name("webkit_window.py")
    about.set_version(WebKit2.get_major_version(), WebKit2.get_minor_version(), 0)
    session.set_application_info(about)
    session.connect("create-web-view", lambda _: window(context))


def window(context: WebKit2.WebContext) -> WebKit2.WebView:
    settings = WebKit2.Settings()
    settings.set_enable_write_console_messages_to_stdout(True)
    view = WebKit2.WebView(
        web_context=context,
        is_controlled_by_automation=True,
        settings=settings,
        website_policies=WebKit2.WebsitePolicies(autoplay=WebKit2.AutoplayPolicy.ALLOW),
    )
    frame = Gtk.Window(decorated=False)
    frame.add(view)
    frame.show_all()
    view.connect("close", lambda _: frame.destroy())
    frame.connect("destroy", lambda _: Gtk.main_quit())
    return view


if __name__ == "__main__":
    main()
