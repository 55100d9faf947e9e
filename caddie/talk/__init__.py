"""The conversation: from what was said to an answer, and what is known from turn to turn."""
