"""`python -m coach` is the same as `turncaller`."""

import sys

from coach.cli import main

sys.exit(main())
