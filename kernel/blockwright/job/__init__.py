"""One job from blocks and a body to files: what the command line, a page or a batch all use."""
