"""The cut list laid out on real stock: which piece lies where on which sheet, proven on the exact outlines.

`values` holds what goes in and what comes out (`Piece`, `Stock`, `Placement`, `Sheet`, `Layout`); the other
modules search, prove and write. Lengths are millimetres, angles radians, areas mm².
"""
