"""The mechanics of a club: plain functions on plain numbers, in grams and centimetres.

No cell, no file and no spreadsheet program is known here. What is plain arithmetic
serves numbers and numpy arrays alike.
"""
