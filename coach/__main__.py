"""`python -m coach` is the same as `turncaller`."""

import sys

try:
    from coach.cli import main

    code = main()
except KeyboardInterrupt:  # while all of it is still being loaded
    code = 130
sys.exit(code)
