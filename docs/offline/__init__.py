"""Use without a network: the service worker and the page's side of it, and the list of files that the build writes."""
