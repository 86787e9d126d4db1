"""Plans before the work: likeness to earlier runs, vessels, blanks, and what was done of them."""
