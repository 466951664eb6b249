"""Letters: outlines of fonts, single-stroke letters, labels on pieces."""
