"""What is true at a moment: standing, last chance, release. Pure functions of a record and a moment."""
