"""The charts of the site: a module for each, and one for each form that all of them share.

A chart is described once, in the plain records of `plain.py`. `fields.py` says where its panels
lie; `drawing.py` makes the static drawing of it and `plotly_figure.py` the live figure, in the
same places; `view.py` puts both beside the table and the sentence.
"""
