"""What a book holds: the writer's blocks as whole values, each with its place.

entries      what enters: quantities with their sources
workings     what is worked out: calcs and methods
statements   what is stated: claims, estimates, forecasts, questions, corrections
book         pages, what they show, and the whole
"""

from calc.book.model.book import Block, Book, Page, Showing
from calc.book.model.entries import ASSUMPTION, Correlation, Input, Place, Sheet, Source
from calc.book.model.statements import (
    Claim,
    Correction,
    Estimate,
    Estimates,
    Forecast,
    Question,
)
from calc.book.model.workings import Calc, Check, Limit, Method, Parameter, Solve, Step

__all__ = [
    "ASSUMPTION",
    "Block",
    "Book",
    "Calc",
    "Check",
    "Claim",
    "Correction",
    "Correlation",
    "Estimate",
    "Estimates",
    "Forecast",
    "Input",
    "Limit",
    "Method",
    "Page",
    "Parameter",
    "Place",
    "Question",
    "Sheet",
    "Showing",
    "Solve",
    "Source",
    "Step",
]
