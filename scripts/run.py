"""`make run`: prepares the clone, then becomes the server."""

import os

import prepare
from quietly import ENVIRONMENT, VENV


def main() -> None:
    """Prepare, then replace this process by the server, so that Ctrl-C reaches it alone."""
    prepare.main()
    server = VENV / "bin" / "basinside"
    os.execve(server, [str(server), "serve"], ENVIRONMENT)


if __name__ == "__main__":
    main()
