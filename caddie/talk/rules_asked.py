"""Questions about the Rules of Golf: what they offer is told before any shot, for that is played from elsewhere.

The rules and the words they are known by are in ``grammars/en/rules.toml``.
"""
