"""Procedures of the trade: plain functions on numbers in SI units.

procedure   what a procedure declares about itself
catalogue   every procedure that a formula may call, by name

Each other module holds one idea and declares its own procedures at its end.
"""
