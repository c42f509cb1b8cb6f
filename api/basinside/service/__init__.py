"""The service: what is kept, and the calls over HTTP."""

from pathlib import Path

# The clone: the built pages, the seed and the document lie beside the code.
ROOT = Path(__file__).parents[3]
