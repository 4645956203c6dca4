"""The checks of the copy, by what they look at; `sitegen.proof.copycheck` lists and runs them."""
