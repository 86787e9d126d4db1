"""The metal network: contents put into balance over a whole book, and what can be known of them.

Arcs in, figures out: nothing here knows a log, a label or a word of the trade.
"""
