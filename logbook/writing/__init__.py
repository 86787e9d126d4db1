"""From page views to files: templates, data files, terminal text."""
