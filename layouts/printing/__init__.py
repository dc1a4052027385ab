"""Printers as they were measured, what that makes of a page, and how far it can be trusted."""
