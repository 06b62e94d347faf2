"""numpy, loaded when it is first used.

Plugins import curve verbs at the top of their modules.  Numpy takes a tenth of a second to load,
and a list of plugins must not cost that.  So the kernel imports numpy from here.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

__all__ = ["np"]

if TYPE_CHECKING:
    import numpy as np
else:

    class _Lazy:
        """Stands for numpy.  Keeps what was asked of it, so that it is asked only once."""

        def __getattr__(self, name: str) -> Any:
            found = getattr(import_module("numpy"), name)
            setattr(self, name, found)
            return found

    np = _Lazy()
