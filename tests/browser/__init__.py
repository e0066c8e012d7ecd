"""Whole jobs in a real Chromium. A package, so that the browser closes with its last test."""
