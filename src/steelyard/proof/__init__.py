"""Signatures on files that leave a workshop, and files held against them."""
