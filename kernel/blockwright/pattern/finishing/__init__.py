"""From what is sewn to what is cut: allowances, corners, notches and drill holes."""
