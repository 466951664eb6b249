"""Is it fit to cut? Outlines and drawings measured against rules; results that draw and print themselves."""
