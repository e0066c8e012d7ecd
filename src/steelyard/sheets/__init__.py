"""Tables as files: rows written as CSV, XLSX and JSON, and read again.

In: names of columns and rows of texts, numbers and days; the bytes of a file. Out: the bytes of a file; rows
with their numbers in it. Knows nothing of tools and checks, judges nothing. A cell is never a formula: what
begins like one comes out as text. Refuses: what is no such file, too large a cell, too many columns.
"""
