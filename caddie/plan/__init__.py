"""Which shot: candidates, where balls finish, strokes to hole out, choice and reasons."""
