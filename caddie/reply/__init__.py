"""A plan put into words: what is said aloud, what is written, the cue, and the pictures."""

from caddie.reply.picture import draw_picture
from caddie.reply.spoken import speak
from caddie.reply.written import write

__all__ = ["draw_picture", "speak", "write"]
