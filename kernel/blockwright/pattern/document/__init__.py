"""A pattern as plain values, for JSON, and back without loss."""
