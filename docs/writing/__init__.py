"""What `python -m docs serve` does for those who write: it watches, builds again, and tells the open pages."""
