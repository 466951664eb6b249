"""Jobs: a file that names all that is to be cut, and what is made of it."""
