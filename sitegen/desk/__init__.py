"""The local preview and the producer's desk: a server on this machine alone that shows, and never publishes."""
