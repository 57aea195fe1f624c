"""The shop's own tables, read by their headings, and what the shop remembers."""
