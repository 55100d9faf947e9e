from bag_fixtures import bag, bag_path

__all__ = ["bag", "bag_path"]
