"""The same caddie in a browser on this machine: a server for one player, and the files it serves.

Nothing golf is worked out here: each view calls the room that the command of the same name calls.
"""
