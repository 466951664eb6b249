"""Models in, drawings out, without a terminal: one call for some, a process each for many."""

from planform.batch.models import Batch, BatchResult, Drawing, ModelResult, Settings

__all__ = ["Batch", "BatchResult", "Drawing", "ModelResult", "Settings"]
