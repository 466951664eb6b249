"""Models in, drawings out, without a terminal: one call for some, a process each for many."""

from planform.batch.drawing import BatchResult, Drawing, ModelResult
from planform.batch.models import Batch
from planform.batch.settings import Settings

__all__ = ["Batch", "BatchResult", "Drawing", "ModelResult", "Settings"]
