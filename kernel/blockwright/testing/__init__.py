"""The conformance kit: what every block promises, checked on real bodies and made-up ones.

Two doors: `conformance` for pytest, `check_block` for everything else; `CHECKS` has every check by
its name.  Each name is loaded when it is first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockwright.public import public

__docformat__ = "google"

if TYPE_CHECKING:
    from blockwright.testing.bodies import Body as Body
    from blockwright.testing.check import Check as Check
    from blockwright.testing.pytest_plugin import conformance as conformance
    from blockwright.testing.run import CHECKS as CHECKS
    from blockwright.testing.run import Report as Report
    from blockwright.testing.run import Result as Result
    from blockwright.testing.run import check_block as check_block

if not TYPE_CHECKING:  # a checker of types sees the imports above, and no name besides
    __all__, __getattr__ = public(
        __name__,
        {
            "bodies": ("Body",),
            "check": ("Check",),
            "pytest_plugin": ("conformance",),
            "run": ("CHECKS", "Report", "Result", "check_block"),
        },
    )

    def __dir__() -> list[str]:
        return __all__
