"""The report for player and teacher: figures, sentences, charts, one page."""
