"""`python -m coach` is the same as `turncaller`."""

import sys


def run() -> int:
    """The command line; Ctrl-C while all of it is still being loaded ends it quietly, too."""
    try:
        from coach.cli import main

        return main()
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(run())
