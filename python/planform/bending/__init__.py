"""Bent sheets: their blanks by rule or table, lists of bends."""
