"""A plan put into words: what is said aloud, what is written, the cue; pictures are drawn in ``picture``."""

from caddie.reply.spoken import speak
from caddie.reply.written import write

__all__ = ["speak", "write"]
