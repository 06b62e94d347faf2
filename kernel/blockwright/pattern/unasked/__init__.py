"""What is measured on every pattern although nobody promised it."""
