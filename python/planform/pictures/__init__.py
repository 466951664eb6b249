"""Outlines as pictures."""
