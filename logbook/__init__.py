"""Fineweight: dated run logs of a refining bench become figures that show their working."""

__version__ = "0.1.0"
