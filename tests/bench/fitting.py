"""Logistic regression with a penalty, by Newton's method: what the weights of intake are fitted by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np
import numpy.typing as npt

from tests.samples.intake_measures import Measure


def fitted(
    x: npt.NDArray[np.float64],
    y: npt.NDArray[np.float64],
    counts: npt.NDArray[np.float64],
    prior: npt.NDArray[np.float64],
    penalty: float,
) -> npt.NDArray[np.float64]:
    """Weights of the columns of `x`, the last of which is 1 for the bias. `counts`: what each row counts; `prior`: what weights are drawn towards."""
    pull = np.eye(x.shape[1]) * penalty
    pull[-1, -1] = 0.01
    weights = np.zeros_like(prior)
    for _ in range(25):
        chance = 1 / (1 + np.exp(-np.clip(x @ weights, -30, 30)))
        gradient = x.T @ (counts * (chance - y)) + pull @ (weights - prior)
        curve = (x.T * (counts * chance * (1 - chance))) @ x + pull
        weights = weights - np.linalg.solve(curve, gradient)
    return weights


def tell_weights(signs: Iterable[str], weights: npt.NDArray[np.float64]) -> None:
    """Prints weights as they stand in the source, the last one as the bias."""
    for name, weight in zip(signs, weights, strict=False):
        print(f'    "{name}": {weight:.2f},')
    print(f"BIAS = {weights[-1]:.2f}")


def tell_totals(totals: Mapping[tuple[str, float], Measure]) -> None:
    """Prints recall and precision of each group of programmes at each boldness."""
    for (group, boldness), total in sorted(totals.items()):
        print(f"{group} at {boldness}: {total.recall:.3f} / {total.precision:.3f}")
