"""Python for the page: the scripts that run it in the browser, and what makes their files at build time."""
