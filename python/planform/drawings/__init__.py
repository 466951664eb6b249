"""Drawings from elsewhere: read, judged, mended."""
