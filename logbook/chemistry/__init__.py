"""The chemistry of the bench as plain formulas: no logs, no book, no files but the data."""
