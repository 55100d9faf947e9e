"""Every shot played, kept safe, and what it teaches the bag."""
