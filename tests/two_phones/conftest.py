"""Ana's phone and the desk, on a real server."""

import pytest
from browsers import BUILT, DESK, PHONE, Server, Window


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    if not (BUILT / "sw.js").exists():
        pytest.fail("The page is not built: run `make` once, it builds web/dist.")
    server = Server(tmp_path_factory.mktemp("salon"))
    server.start()
    yield server
    server.kill()


@pytest.fixture(scope="module")
def windows(playwright, server, tmp_path_factory):
    """Ana's phone and the desk, both the salon's."""
    made = []
    for name, size in (("Ana’s phone", PHONE), ("The desk", DESK)):
        window = Window(playwright, tmp_path_factory.mktemp("profile"), server.address, size)
        window.open()
        window.pair(server.code(), name)
        window.when_kept_for_offline()
        made.append(window)
    yield made
    for window in made:
        window.close()
