"""What the newsroom wrote: records, and reading them from files with every fault located."""
