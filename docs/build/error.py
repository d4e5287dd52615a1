"""What goes wrong in a build, for every module that builds."""


class BuildError(Exception):
    """The site cannot be built; the message says which page and what to mend."""
