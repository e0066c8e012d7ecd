"""Setting tools that are made up, known only by whether they click: threshold, scatter, a trend."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.readings.threshold import Answer, clicked, not_clicked

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.float64]

SCATTERS_PERCENT = (0.3, 0.7, 1.0, 2.0)
OFF_PERCENT = 3.0  # standard deviation of the threshold about the setting
TRIPS = 40  # of one tool, drawn beforehand, so that every way of finding meets the same tool


@dataclass(frozen=True, slots=True)
class ClickTool:
    """threshold: mean deviation of the first trip from the setting. [%] scatter: from trip to trip. [%]

    drift: change of the mean from trip to trip. [%] by_chance: standard deviates of its trips, (TRIPS,).
    """

    threshold: float
    scatter: float
    drift: float
    by_chance: "Table"

    def mean_at(self, trial: int) -> float:
        """Mean of the trip at a trial, counted from 0. [%]"""
        return self.threshold + self.drift * trial

    def mean_over(self, trials: int) -> float:
        """Mean over the first trials. [%]"""
        return self.threshold + self.drift * (trials - 1) / 2

    def answer(self, trial: int, level_percent: float) -> Answer:
        """Whether it clicks under a level at a trial."""
        trip = self.mean_at(trial) + self.scatter * float(self.by_chance[trial])
        return clicked(level_percent) if trip <= level_percent else not_clicked(level_percent)


def click_tool(seed: int, number: int, *, scatter: float, drift: float = 0.0) -> ClickTool:
    """The tool of that number. Every tool has a stream of random numbers of its own."""
    import numpy as np

    place = SCATTERS_PERCENT.index(scatter)
    generator = np.random.Generator(np.random.SFC64(np.random.SeedSequence([seed, place, number])))
    threshold = OFF_PERCENT * float(generator.standard_normal())
    return ClickTool(threshold, scatter, drift, generator.standard_normal(TRIPS))
