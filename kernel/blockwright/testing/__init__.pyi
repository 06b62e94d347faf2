from blockwright.testing.bodies import Body as Body
from blockwright.testing.check import Check as Check
from blockwright.testing.pytest_plugin import conformance as conformance
from blockwright.testing.run import CHECKS as CHECKS
from blockwright.testing.run import CheckResult as CheckResult
from blockwright.testing.run import Report as Report
from blockwright.testing.run import check_block as check_block
