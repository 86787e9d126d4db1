"""Pure calculations: records of a book in, figures that show their working out.

Nothing here reads a file, asks a clock or keeps a state between calls.
"""
