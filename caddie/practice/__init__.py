"""Practice: sessions on the range that turn balls into carries."""
