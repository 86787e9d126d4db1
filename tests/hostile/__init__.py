"""A book that means harm: what it holds, and what must hold of the site that comes of it."""
