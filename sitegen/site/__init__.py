"""The build: from content to verified files on disk, all of them or none."""
