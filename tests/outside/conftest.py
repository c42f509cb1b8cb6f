"""What the outside checks share: colour-science, imported without its notices."""

import importlib
import warnings
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def colour_science() -> ModuleType:
    """Return the package. It announces the optional packages it does without; that is no fault."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return importlib.import_module("colour")
