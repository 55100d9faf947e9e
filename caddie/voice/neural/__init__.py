"""The neural ear's parts: its files, its network, its tokens, the language it expects, and the search through both."""
