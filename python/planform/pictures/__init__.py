"""Outlines as pictures."""

from planform.pictures.outlines import plot

__all__ = ["plot"]
