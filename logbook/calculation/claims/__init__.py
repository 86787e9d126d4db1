"""The writer's own arithmetic: each reckoned figure worked out again from the same book."""
