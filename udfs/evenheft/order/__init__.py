"""The order workbook: its layout, its template, and what is read from and written to it."""
