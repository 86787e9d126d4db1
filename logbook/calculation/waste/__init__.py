"""The waste containers: acid left, the base it takes, lines of the law, order of handling."""
