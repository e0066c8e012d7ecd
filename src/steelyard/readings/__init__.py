"""What was read at the bench: pulls, kept as typed, never deleted; a line from a device or a hand.

In: a raw number per pull (a load or an indication) and what was typed; one line of text. Out: which pulls
count; number and unit of a line. Refuses: a line that reads two ways; what is odd about a pull is a finding.
"""

from steelyard.readings.pull import Pull, counted
from steelyard.readings.wedge import WedgeReading, read_wedge_line

__all__ = [
    "Pull",
    "WedgeReading",
    "counted",
    "read_wedge_line",
]
