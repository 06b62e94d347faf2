"""The cuff keeps what every block promises, on real bodies and made-up ones."""

from blockwright.testing import conformance
from shirt_cuff.block import ShirtCuff

test_block = conformance(ShirtCuff)
