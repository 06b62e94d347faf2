"""The pocket keeps what every block promises, on real bodies and made-up ones."""

from bias_binding.block import BoundPocket
from blockwright.testing import conformance

test_block = conformance(BoundPocket)
