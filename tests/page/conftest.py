from page_fixtures import browser, ears, home, keys, mouth, stranger

__all__ = ["browser", "ears", "home", "keys", "mouth", "stranger"]
