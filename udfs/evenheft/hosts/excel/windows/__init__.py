"""Evenheft on a Windows machine: where Excel is, installing, and what doctor finds."""
