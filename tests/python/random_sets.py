"""Seeded random pairs of profile sets that coincide a lot: outlines on a lattice, used again."""

from __future__ import annotations

import math

import numpy as np
from planform import Arc, Contour, EllipticalArc, Line, Profile, ProfileSet, Spline, merge

STEP = 5.0  # mm


class Dice:
    """Draws from the lattice."""

    def __init__(self, seed: int) -> None:
        self.random = np.random.default_rng(seed)

    def pick(self, count: int) -> int:
        return int(self.random.integers(count))

    def point(self) -> tuple[float, float]:
        return STEP * self.pick(10), STEP * self.pick(10)

    def size(self) -> float:
        return STEP * (1 + self.pick(4))

    def shape(self) -> ProfileSet:
        (x, y), size, other = self.point(), self.size(), self.size()
        kinds = [
            lambda: polygon((x, y), (x + size, y), (x + size, y + other), (x, y + other)),
            lambda: polygon((x, y), (x + size, y), (x + size + other, y + other), (x, y + size)),
            lambda: Contour([Arc((x, y), size)]),
            lambda: Contour([EllipticalArc((x, y), (size + STEP, 0), 0.5)]),
            lambda: slot(x, y, size),
            lambda: blob(x, y, size),
        ]
        kind = self.pick(len(kinds) + 1)
        if kind < len(kinds):
            return ProfileSet([Profile(kinds[kind]())])
        ring = Profile(Contour([Arc((x, y), size + STEP)]), [Contour([Arc((x, y), size)])])
        return ProfileSet([ring])


def polygon(*corners: tuple[float, float]) -> Contour:
    return Contour([Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])


def slot(x: float, y: float, size: float) -> Contour:
    return Contour(
        [
            Line((x, y - STEP), (x + size, y - STEP)),
            Arc((x + size, y), STEP, -math.pi / 2, math.pi),
            Line((x + size, y + STEP), (x, y + STEP)),
            Arc((x, y), STEP, math.pi / 2, math.pi),
        ]
    )


def blob(x: float, y: float, size: float) -> Contour:
    poles = [
        (x + size * math.cos(a) * (1 + i % 2), y + size * math.sin(a))
        for i, a in enumerate(np.arange(6) * math.pi / 3)
    ]
    return Contour(
        [Spline(degree=3, knots=[0, 0, 0, 0, 1, 2, 3, 4, 4, 4, 4], poles=[*poles, poles[0]])]
    )


def random_pair(seed: int) -> tuple[ProfileSet, ProfileSet]:
    """Two sets of one to four outlines each; every other pair is turned by some angle."""
    dice = Dice(seed)
    count = 1 + dice.pick(4)
    first = [dice.shape() for _ in range(count)]
    second = []
    for _ in range(count):
        old, (x, y) = first[dice.pick(count)], dice.point()
        moved = old.transformed([[1, 0, x - 4 * STEP], [0, 1, y - 4 * STEP]])
        second.append([old, moved, old - dice.shape(), dice.shape()][dice.pick(4)])
    pair = merge(first), merge(second)
    if seed % 2 == 0:
        return pair
    angle = float(dice.random.uniform(0, 6))
    turn = [[math.cos(angle), -math.sin(angle), 3.0], [math.sin(angle), math.cos(angle), -2.0]]
    return pair[0].transformed(turn), pair[1].transformed(turn)
