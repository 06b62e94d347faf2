"""The kinds of promise that the kernel has, one file a kind."""
