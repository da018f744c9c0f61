"""Bezier segments for the outside checks, written from the definition.

A chain is a list of segments, a segment a list of 2, 3 or 4 control points.
Evaluation is by the Bernstein form (G. Farin, "Curves and Surfaces for CAGD",
5th ed., sections 5.1 and 5.3), on plain floats or numpy arrays alike.
"""

import json
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq


def answer(make):
    """Reads the question, writes make(question)."""
    question = json.load(sys.stdin)
    json.dump(make(question), sys.stdout)


def bernstein(values, t):
    """The Bernstein form of one coordinate at t."""
    s = 1 - t
    if len(values) == 1:
        return values[0] + 0 * t
    if len(values) == 2:
        return values[0] * s + values[1] * t
    if len(values) == 3:
        return values[0] * s * s + 2 * values[1] * s * t + values[2] * t * t
    return (values[0] * s * s * s + 3 * values[1] * s * s * t
            + 3 * values[2] * s * t * t + values[3] * t * t * t)


def point(segment, t):
    return (bernstein([p[0] for p in segment], t), bernstein([p[1] for p in segment], t))


def hodograph(segment):
    """The control points of the derivative."""
    degree = len(segment) - 1
    return [(degree * (b[0] - a[0]), degree * (b[1] - a[1]))
            for a, b in zip(segment, segment[1:])]


def speed_breaks(segment):
    """Parameters where the speed has a local extremum: quadrature is cut there."""
    if len(segment) == 2:
        return []
    d = np.array(hodograph(segment))
    if len(d) == 2:
        powers = [np.polynomial.Polynomial([a, b - a]) for a, b in zip(d[0], d[1])]
    else:
        powers = [np.polynomial.Polynomial([a, 2 * (b - a), a - 2 * b + c])
                  for a, b, c in zip(d[0], d[1], d[2])]
    squared = powers[0] ** 2 + powers[1] ** 2
    roots = squared.deriv().roots()
    return sorted(r.real for r in roots if abs(r.imag) < 1e-6 and 1e-9 < r.real < 1 - 1e-9)


class Segment:
    """A segment with its arc length by adaptive quadrature (QUADPACK)."""

    def __init__(self, points):
        self.points = points
        self.derivative = hodograph(points)
        self.dx = [p[0] for p in self.derivative]
        self.dy = [p[1] for p in self.derivative]
        self.breaks = [0.0, *speed_breaks(points), 1.0]
        self.pieces = [self.quad(a, b) for a, b in zip(self.breaks, self.breaks[1:])]
        self.length = sum(self.pieces)

    def speed(self, t):
        x, y = bernstein(self.dx, t), bernstein(self.dy, t)
        return (x * x + y * y) ** 0.5

    def quad(self, a, b):
        return quad(self.speed, a, b, epsabs=1e-11, epsrel=1e-13, limit=500)[0]

    def length_to(self, t):
        total = 0.0
        for piece, a, b in zip(self.pieces, self.breaks, self.breaks[1:]):
            if t <= b:
                return total + (self.quad(a, t) if t > a else 0.0)
            total += piece
        return total

    def parameter_at(self, length):
        if length >= self.length:
            return 1.0
        if length <= 0:
            return 0.0
        return brentq(lambda t: self.length_to(t) - length, 0.0, 1.0, xtol=1e-14)


def dense(chain, steps):
    """A polyline of the chain; `steps` is the number of even parameter steps on
    each curved segment, or the parameters themselves."""
    parameters = np.linspace(0.0, 1.0, steps + 1) if np.isscalar(steps) else steps
    points = []
    for segment in chain:
        t = np.array([0.0, 1.0]) if len(segment) == 2 else parameters
        points.append(np.column_stack(point(segment, t))[0 if not points else 1:])
    return np.vstack(points)
