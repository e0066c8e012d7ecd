"""What was read at the bench: pulls, kept as typed, never deleted.

In: a raw number per pull (a load or an indication) and what was typed. Out: which pulls count.
Refuses: nothing; what is odd about a pull is a finding.
"""

from steelyard.readings.pull import Pull, counted

__all__ = ["Pull", "counted"]
