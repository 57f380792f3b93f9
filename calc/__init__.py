"""Worked Cells without its website: reading, computing and judging the numbers of the pages.

The way through, each folder handing a whole value to the next:

notation  what the writer's text means: quantities, units, formulas, fenced blocks
book      everything read and checked, and the order of evaluation
engine    numbers: draws, evaluation, solving, contributions, reconciling
cell      procedures of the trade, on plain numbers in SI units
judge     whether the text agrees with what was computed
problems  one way to say what is wrong, from any stage
report    what came out, as data and as text
"""
