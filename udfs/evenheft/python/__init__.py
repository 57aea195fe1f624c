"""What `import evenheft` offers to Python users, a module per topic: numbers or numpy arrays, in g and cm.

Names are those of the formulas without HEFT_ where both exist, and so are bounds and refusals: what a cell refuses
with a line that begins "! ", Python refuses with a `ValueError` that says the same. numpy is imported where an array is
handed over, and nowhere else.
"""
