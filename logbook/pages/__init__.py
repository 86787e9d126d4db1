"""From figures to page views: plain text, links and chart data; the only place that rounds."""
