"""Blockwright: body measurements in, a block out whose every seam is solved and proved.

These are the public names; plugins use nothing else.  Each is loaded when first asked for.
`hookimpl` is put above a function of a plugin that answers a hook, and `API_VERSION` is the version
of the plugin API: these names and the hooks.
"""

from blockwright.public import public

__docformat__ = "google"
# The names are those of the stub beside this file, which a checker of types reads too.
__all__, __getattr__ = public(__name__, __file__)


def __dir__() -> list[str]:
    return __all__
