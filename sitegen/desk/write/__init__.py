"""The form: writing and changing stories, asks, places and episodes in the browser."""
