"""Lengths as people write them and as the outputs show them. Inside, a length is always millimetres."""
