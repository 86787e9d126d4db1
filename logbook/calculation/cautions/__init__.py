"""What must never meet what, in a stage, in a jar, and one after another."""
