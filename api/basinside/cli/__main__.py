"""Lets `python -m basinside.cli` be `basinside`."""

import sys

from . import main

sys.exit(main())
