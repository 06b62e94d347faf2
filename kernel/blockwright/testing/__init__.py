"""The conformance kit: what every block promises, checked on real bodies and made-up ones.

`conformance` makes tests for pytest, `check_block` gives a report; `CHECKS` has every check by its
name.  Each of these names is loaded when it is first used.
"""

from blockwright.public import public

__docformat__ = "google"
# The names are those of the stub beside this file, which a checker of types reads too.
__all__, __getattr__ = public(__name__, __file__)


def __dir__() -> list[str]:
    return __all__
