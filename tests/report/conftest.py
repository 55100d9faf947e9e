from season_fixtures import bag, made, season, table

__all__ = ["bag", "made", "season", "table"]
