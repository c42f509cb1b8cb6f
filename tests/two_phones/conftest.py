"""Ana's phone and the desk, on a real server.

Both are paired and made ready offline once; each file of tests has copies of their profiles and
of the salon's folder, on the same address.
"""

import shutil

import pytest
from browser import DESK, PHONE, copy_profile, need_the_built_page
from browsers import Window
from running import Server

# Each is somebody's: a question that was put off would come again at midnight.
BOTH = (("Ana’s phone", PHONE, "Ana"), ("The desk", DESK, "Ilse"))


@pytest.fixture(scope="session", autouse=True)
def the_page_is_built():
    need_the_built_page()


@pytest.fixture(scope="session")
def paired_once(playwright, tmp_path_factory):
    """The folder of a salon's records and of two profiles that are its own, and the address."""
    folder = tmp_path_factory.mktemp("paired")
    server = Server(folder / "salon").start()
    for name, size, who in BOTH:
        window = Window(playwright, folder / name, server.address, size)
        window.open()
        window.pair(server.code(), name, who)
        window.when_kept_for_offline()
        window.when_ready_offline()
        window.close()
    server.stop()
    return folder, server.port


@pytest.fixture(scope="module")
def server(paired_once, tmp_path_factory):
    """The salon whose phones are paired."""
    folder, port = paired_once
    copied = shutil.copytree(folder / "salon", tmp_path_factory.mktemp("copy") / "salon")
    server = Server(copied, port=port).start()
    yield server
    server.kill()


@pytest.fixture(scope="module")
def new_salon(tmp_path_factory):
    """A server that knows no phone yet."""
    server = Server(tmp_path_factory.mktemp("new") / "salon").start()
    yield server
    server.kill()


@pytest.fixture(scope="module")
def windows(playwright, paired_once, server, tmp_path_factory):
    """Ana's phone and the desk, both the salon's."""
    made = []
    for name, size, _ in BOTH:
        profile = copy_profile(paired_once[0] / name, tmp_path_factory.mktemp("profile") / "its")
        window = Window(playwright, profile, server.address, size)
        window.open()
        made.append(window)
    yield made
    for window in made:
        window.close()
