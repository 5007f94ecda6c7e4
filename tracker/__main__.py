"""`python -m tracker`: the same as the command `tracker`."""

import sys

from tracker.cli import main

sys.exit(main())
