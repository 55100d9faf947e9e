"""Ears and mouth: speech in and out on the player's own machine, with no network.

The room knows sound and sentences, not golf: what to listen for is handed in by the caller as sentences.
"""
