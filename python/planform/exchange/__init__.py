"""Shapes and outlines of other libraries, in and out."""
