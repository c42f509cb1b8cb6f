"""The walk of one visit and one cold start, in browsers that are not Chromium."""

import pytest
from other_browsers import Firefox, WebKit

NOTE = "Front pinker than shown."


@pytest.fixture(params=[Firefox, WebKit], ids=["Firefox", "WebKitGTK"])
def other(request, tmp_path):
    """A browser with nothing on it."""
    if lacking := request.param.lacks():
        pytest.skip(f"not here: {', '.join(lacking)}")
    browser = request.param(tmp_path / "browser")
    yield browser
    browser.kill()


def test_after_one_visit_it_works_killed_and_without_its_server(other, server):
    window = other.on()
    window.go(f"{server.address}/#/today")
    window.tap("button", "The United Kingdom", whole=False)
    window.tap("button", "New service")
    window.write("input", "Client’s name", "Wren Aldous")
    window.tap("button", "New client")
    window.shows("a", "Wren Aldous")
    window.tap("summary", "Notes", whole=False)
    window.write("textarea", "Note", NOTE)
    window.tap("button", "Keep the note")
    window.shows("[role=status]", "Kept on this phone.")
    window.go(f"{server.address}/#/settings")
    window.says("#offline [role=status]", "Ready offline: ")
    other.kill()
    server.kill()

    window = other.on()
    window.go(f"{server.address}/#/today")
    window.tap("a", "Wren Aldous", whole=False)
    window.tap("summary", "Notes, 1", whole=False)
    window.shows("li, p", NOTE)
    window.go(f"{server.address}/#/try")
    window.tap("button", "Next: the wish")
    window.tap("[role=radio], input[type=radio]", "pearl")
    window.tap("button", "What to mix")
    window.shows(".answer-rows > li")
    window.tap("button", "Mix this")
    window.shows("[role=slider], input[type=range]", "Minute")
    window.shows("p", "Worked out on this device")
    window.go(f"{server.address}/#/settings")
    window.says("#offline [role=status]", "Ready offline: ")
