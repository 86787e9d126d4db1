"""What goes on in the vessels: substances, reactions, what they ask for and give off."""
