"""The records of a book: what was written, read once and never changed afterwards."""
