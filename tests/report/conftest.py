from season_fixtures import bag, made, season, table

__all__ = ["bag", "made", "season", "table"]


def pytest_configure(config):
    config.addinivalue_line("markers", "browser: opens the report in headless Chromium; run with -m browser")


def pytest_collection_modifyitems(config, items):
    """A browser is not part of what a developer must have: its tests run when asked for."""
    if "browser" in (config.option.markexpr or ""):
        return
    wanted = [item for item in items if item.get_closest_marker("browser") is None]
    config.hook.pytest_deselected(items=[item for item in items if item not in wanted])
    items[:] = wanted
