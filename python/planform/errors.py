"""Every failure that planform reports, one exception class a family.

Each exception also derives from the builtin that callers expect, and each instance says in `kind` what
went wrong: one of the names that `planform.error_kinds` lists.
"""

__all__ = ["Error", "GeometryError", "LoadError", "WriteError"]


class Error(Exception):
    """Base of every exception that planform raises."""

    kind: str = "invalid_argument"
    """What went wrong: one of the names that `planform.error_kinds` lists."""

    @classmethod
    def of_kind(cls, kind: str, message: str) -> "Error":
        """Make an exception of this class that carries the given kind.

        Parameters
        ----------
        kind : str
            One of the names that `planform.error_kinds` lists.
        message : str
            What a person should read: the file, the entity, what to do.

        Returns
        -------
        Error
            Of this class, to be raised by the caller.
        """
        error = cls(message)
        error.kind = kind
        return error


class LoadError(Error, OSError):
    """A model that can't be read."""


class GeometryError(Error, ValueError):
    """Geometry that can't be flattened, or arguments that describe no geometry."""


class WriteError(Error, OSError):
    """Output that can't be written."""
