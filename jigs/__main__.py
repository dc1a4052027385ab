"""Where the program starts, as `coilwright` and as `python -m jigs`."""

from __future__ import annotations

import gc


def main() -> None:
    """Runs the command line, with the garbage collector kept from where it finds nothing: the start and the end."""
    # A start makes many objects and no garbage, and the system frees what is left at the end: together a tenth
    # of the time of a short command.
    gc.set_threshold(100_000, 20, 20)
    try:
        from jigs.cli import main as run

        run()
    finally:
        gc.freeze()


if __name__ == "__main__":
    main()
