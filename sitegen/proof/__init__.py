"""Checks of the copy before and of the pages after they are made, and the reports of both."""
