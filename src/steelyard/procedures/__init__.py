"""The ordered steps of a check: what is done, what comes now, what is still locked.

In: `Progress`, a few plain facts that `records` fills in. Out: the state of every step, and the step to go
on with.
Refuses: nothing; a step that is locked says why by a code.
"""

from steelyard.procedures.steps import Progress, StandingStep, Step, StepState, steps_of, where_now

__all__ = ["Progress", "StandingStep", "Step", "StepState", "steps_of", "where_now"]
