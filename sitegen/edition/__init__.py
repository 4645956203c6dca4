"""Which pages a site has as of a moment, their addresses, and each page's model."""
