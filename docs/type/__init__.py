"""The site's typefaces: cut from what the registry's packages hold (``python -m docs.type``), kept in ``pages/assets/type``."""
