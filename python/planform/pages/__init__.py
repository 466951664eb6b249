"""Pages that people read: outlines, batches, inspections."""
