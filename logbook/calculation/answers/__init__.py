"""Answers to questions: each family of questions has a module, and none of them gives advice."""
