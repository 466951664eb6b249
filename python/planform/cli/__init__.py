"""The command `planform`."""

from planform.extras import needed

with needed():
    from planform.cli.command import main

__all__ = ["main"]
