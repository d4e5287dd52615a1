"""The teaching site: lessons, interactive parts, and the build that joins them."""
