"""A WebKitGTK window that a WebDriver drives and that keeps what its pages keep.

The window that comes with Debian's driver forgets all once it is closed. A phone does not, so this
one has a folder: `webkit_window.py FOLDER`. It runs under the system's own Python, which has the
bindings. Source: WebKitGTK reference, WebKitAutomationSession and WebKitWebsiteDataManager.
"""

import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402 - after their versions are chosen

WIDTH, HEIGHT = 390, 844


def main(folder):
    keeps = WebKit2.WebsiteDataManager(
        base_data_directory=f"{folder}/data", base_cache_directory=f"{folder}/cache"
    )
    context = WebKit2.WebContext.new_with_website_data_manager(keeps)
    context.set_automation_allowed(True)

    def new_view(_session):
        view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
        window = Gtk.Window()
        window.set_default_size(WIDTH, HEIGHT)
        window.add(view)
        window.show_all()
        return view

    def began(_context, session):
        about = WebKit2.ApplicationInfo()
        about.set_name("window")
        session.set_application_info(about)
        session.connect("create-web-view", new_view)

    context.connect("automation-started", began)
    Gtk.main()


if __name__ == "__main__":
    main(sys.argv[1])
