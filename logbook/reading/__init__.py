"""From text to entries: blocks, fields, amounts, entries. Never raises on what a user wrote."""
