"""The command `planform`."""

from planform.cli.command import main

__all__ = ["main"]
