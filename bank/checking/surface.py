"""Whether the key of a choice can be guessed from its looks: a small classifier that knows no physics tries.

It sees of each option what a test-wise candidate sees who doesn't understand the question: its place, its length, its
words and signs, the number of its arrows, and how like the others it is. It learns on some problems which looks go with
the key, and guesses on the others. Where it does much better than chance, the options betray the key.

The model is the conditional logit of McFadden (1974) for one key, and the logistic one for several, each with a
quadratic penalty; the features are ours.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..item import formula
from ..item.drawing import Drawing, Label, Shape, Trace
from ..item.item import ChoiceEntry, Option, Words
from ..thinking.balance import likeness, pieces
from .option_quality import shown

MOST_ABOVE_CHANCE = 0.10
FOLDS = 4
PENALTY = 2.0
RAREST = 0.04  # share of choices in which a word stands that is looked at
_TERM = re.compile(r"[+−]")

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Sighted:
    """A choice, and the problem that it is about."""

    problem: str
    entry: ChoiceEntry


@dataclass(frozen=True)
class Guessing:
    """How often the classifier is right, and how often one is who looks at nothing; both as shares."""

    accuracy: float
    chance: float

    @property
    def above_chance(self) -> float:
        """What the looks of the options give away."""
        return self.accuracy - self.chance


def guessing(choices: Sequence[Sighted]) -> Guessing:
    """How well the keys of choices of one kind are guessed from looks, in problems that were not learnt from."""
    table = _Table(tuple(choices))
    problems = sorted({each.problem for each in choices})
    fold_of = {problem: place % FOLDS for place, problem in enumerate(problems)}
    folds = np.array([fold_of[each.problem] for each in choices])
    several = any(each.entry.several for each in choices)
    judge: Callable[[_Table, NDArray[np.bool_]], Array] = _of_each_option if several else _of_the_key
    marks = np.concatenate([judge(table, folds == fold) for fold in range(FOLDS) if (folds == fold).any()])
    return Guessing(float(marks.mean()), _chance(table, several))


def _chance(table: _Table, several: bool) -> float:
    if several:
        share = float(table.keys[table.there].mean())
        return max(share, 1 - share)
    return float((1 / table.there.sum(axis=1)).mean())


# --- what is seen of an option --------------------------------------------------------------------


@dataclass(frozen=True)
class _Table:
    """Features of all options (choices x options x features), nan-free; ``there`` tells which options exist."""

    choices: tuple[Sighted, ...]

    @cached_property
    def there(self) -> NDArray[np.bool_]:
        """Which options there are, shape (choices, options)."""
        sizes = [len(each.entry.options) for each in self.choices]
        return np.arange(max(sizes)) < np.array(sizes)[:, None]

    @cached_property
    def keys(self) -> NDArray[np.bool_]:
        """Which options are right, shape (choices, options)."""
        found = np.zeros(self.there.shape, dtype=bool)
        for row, each in enumerate(self.choices):
            found[row, : len(each.entry.options)] = [option.right for option in each.entry.options]
        return found

    @cached_property
    def features(self) -> Array:
        """The looks of all options, shape (choices, options, features)."""
        known = self._words()
        rows = [_features(each.entry, known) for each in self.choices]
        found = np.zeros((*self.there.shape, rows[0].shape[1]))
        for row, of_options in enumerate(rows):
            found[row, : len(of_options)] = of_options
        return found

    def _words(self) -> list[str]:
        counts = Counter(
            word for each in self.choices for word in {w for option in each.entry.options for w in words(option)}
        )
        return sorted(word for word, count in counts.items() if count >= RAREST * len(self.choices))


def words(option: Option) -> list[str]:
    """The words, symbols and signs of an option, in order; of a force diagram, those of its labels.

    Its text tells which way each arrow points. That is what the question is about, and no look. Of a graph the text
    tells how its line goes, and that is its look.
    """
    content = option.content
    if not isinstance(content, Drawing) or any(isinstance(mark, Trace) for mark in content.marks):
        return pieces(shown(option))
    labels = [mark.content for mark in content.marks if isinstance(mark, Label)]
    return pieces(" ".join(each if isinstance(each, str) else formula.text(each) for each in labels))


def _features(entry: ChoiceEntry, known: Sequence[str]) -> Array:
    """The looks of the options of one choice, each beside the others (options x features)."""
    told = [words(option) for option in entry.options]
    places = np.arange(len(told)) / max(len(told) - 1, 1)
    looks = [np.array(look, dtype=float) for look in _looks(entry)]
    beside = [column for look in looks for column in _beside(look)]
    seen = np.array([[word in one for word in known] for one in told], dtype=float).reshape(len(told), len(known))
    columns = np.stack([places, (places - 0.5) ** 2, *beside], axis=1)
    return np.concatenate([columns, seen - seen.mean(axis=0)], axis=1)


def _looks(entry: ChoiceEntry) -> list[list[float]]:
    told = [pieces(shown(option)) for option in entry.options]
    asked = {part for each in entry.prompt if isinstance(each, Words) for part in pieces(each.text)}
    return [
        [_length(option) for option in entry.options],
        [float(len(_TERM.findall(shown(option)))) for option in entry.options],
        [float(arrows(option)) for option in entry.options],
        [_likeness(place, told) for place in range(len(told))],
        [len(set(one) & asked) / max(len(set(one)), 1) for one in map(words, entry.options)],
    ]


def _length(option: Option) -> float:
    """How long an option is; the text of a drawing is as long as what it shows, and stands on no page."""
    return 0.0 if isinstance(option.content, Drawing) else float(len(shown(option)))


def arrows(option: Option) -> int:
    """The number of force arrows of a drawing."""
    content = option.content
    return sum(isinstance(mark, Shape) for mark in content.marks) if isinstance(content, Drawing) else 0


def _likeness(place: int, told: Sequence[Sequence[str]]) -> float:
    """The mean share of pieces that an option has in common with each of the others."""
    shares = [likeness(told[place], one) for at, one in enumerate(told) if at != place]
    return sum(shares) / max(len(shares), 1)


def _beside(look: Array) -> list[Array]:
    """A look beside those of the other options: how far off their mean, how far from the middle, least or most."""
    spread = look.std()
    far = (look - look.mean()) / spread if spread > 0 else np.zeros_like(look)
    least, most = (
        (look == edge) / max((look == edge).sum(), 1) if spread > 0 else np.zeros_like(look)
        for edge in (look.min(), look.max())
    )
    return [far, far**2, least, most]


# --- learning and guessing ------------------------------------------------------------------------


def _of_the_key(table: _Table, tested: NDArray[np.bool_]) -> Array:
    """For each tested choice, the chance that the best guess is its key; equal guesses share it."""
    weights = _learnt(table, ~tested, _key_loss)
    scores = np.where(table.there[tested], table.features[tested] @ weights[1:], -np.inf)
    best = scores >= scores.max(axis=1, keepdims=True) - 1e-9
    return np.asarray((best & table.keys[tested]).sum(axis=1) / best.sum(axis=1), dtype=float)


def _of_each_option(table: _Table, tested: NDArray[np.bool_]) -> Array:
    """For each option of the tested choices, whether it is told right from wrong."""
    weights = _learnt(table, ~tested, _option_loss)
    guessed = table.features[tested] @ weights[1:] + weights[0] > 0
    return np.asarray((guessed == table.keys[tested])[table.there[tested]], dtype=float)


def _learnt(table: _Table, rows: NDArray[np.bool_], loss: Callable[..., tuple[float, Array]]) -> Array:
    """The weights of the features, after that of an option without looks."""
    from scipy.optimize import minimize

    features, keys, there = table.features[rows], table.keys[rows], table.there[rows]

    def penalised(weights: Array) -> tuple[float, Array]:
        value, slope = loss(weights, features, keys, there)
        held = np.concatenate([[0.0], weights[1:]])
        return value + PENALTY / 2 * float(held @ held), slope + PENALTY * held

    found = minimize(penalised, np.zeros(features.shape[2] + 1), jac=True, method="L-BFGS-B", options={"maxiter": 100})
    return np.asarray(found.x)


def _key_loss(
    weights: Array, features: Array, keys: NDArray[np.bool_], there: NDArray[np.bool_]
) -> tuple[float, Array]:
    scores = np.where(there, features @ weights[1:], -np.inf)
    odds = np.exp(scores - scores.max(axis=1, keepdims=True))
    odds /= odds.sum(axis=1, keepdims=True)
    loss = -float(np.log(odds[keys] + 1e-300).sum())
    slope = np.einsum("co,cof->f", odds - keys, features)
    return loss, np.concatenate([[0.0], slope])


def _option_loss(
    weights: Array, features: Array, keys: NDArray[np.bool_], there: NDArray[np.bool_]
) -> tuple[float, Array]:
    seen, right = features[there], keys[there]
    scores = seen @ weights[1:] + weights[0]
    loss = float((np.logaddexp(0.0, scores) - right * scores).sum())
    off = 1 / (1 + np.exp(-scores)) - right
    return loss, np.concatenate([[off.sum()], seen.T @ off])
