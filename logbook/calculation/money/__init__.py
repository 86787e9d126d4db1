"""What the work cost, what it is worth and what an hour of it earned; and the hours themselves."""
