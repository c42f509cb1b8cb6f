"""The service: stores the records and answers the calls over HTTP."""

from pathlib import Path

# The clone: the built pages, the seed and the document are beside the code.
ROOT = Path(__file__).parents[3]
