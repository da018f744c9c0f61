"""Arc lengths and points at arc lengths, by QUADPACK quadrature and Brent's
root finding (scipy.integrate.quad, scipy.optimize.brentq)."""

from bezier import Segment, answer, point


def at_length(segments, asked):
    for segment in segments:
        if asked <= segment.length:
            return point(segment.points, segment.parameter_at(asked))
        asked -= segment.length
    return point(segments[-1].points, 1.0)


def measure(chain, fractions):
    segments = [Segment(s) for s in chain]
    length = sum(s.length for s in segments)
    return {"length": length,
            "points": [at_length(segments, f * length) for f in fractions]}


answer(lambda q: [measure(chain, q["fractions"]) for chain in q["chains"]])
