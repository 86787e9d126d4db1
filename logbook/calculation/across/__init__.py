"""Figures across runs: what kinds of scrap gave, and how far methods differ."""
