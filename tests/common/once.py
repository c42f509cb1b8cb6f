"""What every worker needs and one of them makes, in the folder that all workers of a run share."""

import fcntl
import os
import re


def folder_of_all(tmp_path_factory):
    """Return the folder of the whole run, which is above that of a worker."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


def made_once(tmp_path_factory, name, make):
    """Return the text that `make` returned where it was called first; the others wait for it.

    Where `make` raises, the next caller tries again.
    """
    plain = re.sub("[^a-z0-9]+", "-", name.lower())
    kept = folder_of_all(tmp_path_factory) / f"made once, {plain}"
    with kept.with_name(f"{kept.name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            part = kept.with_name(f"{kept.name}.part")
            part.write_text(make())
            part.rename(kept)
        return kept.read_text()
