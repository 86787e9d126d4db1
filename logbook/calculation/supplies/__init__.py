"""What was bought, what each stage used of it, what that cost, and what is left."""
