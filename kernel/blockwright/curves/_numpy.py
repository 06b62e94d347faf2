"""numpy, loaded when it is first used.

Plugins import curve verbs at the top of their modules.  Numpy takes a tenth of a second to load,
and a list of plugins must not cost that.  So the kernel imports numpy from here.
"""

from __future__ import annotations

import importlib.util
import sys
from typing import TYPE_CHECKING

__all__ = ["np"]

if TYPE_CHECKING:
    import numpy as np
else:

    def _lazy(name: str):
        if name in sys.modules:
            return sys.modules[name]
        spec = importlib.util.find_spec(name)
        loader = importlib.util.LazyLoader(spec.loader)
        spec.loader = loader
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        loader.exec_module(module)
        return module

    np = _lazy("numpy")
