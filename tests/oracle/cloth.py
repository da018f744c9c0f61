"""A small cloth brought to rest by scipy.optimize (BFGS, then a trust region with the
second derivatives), from the energy as docs/hang.md words it and written here without
the program's own: slopes come from deformation gradients, not from cotangents, and
derivatives from the complex step (J. Lyness and C. Moler 1967), exact to rounding."""

import json
import sys

import numpy as np
from scipy.optimize import minimize

q = json.load(sys.stdin)
m = q["material"]
triangles = np.array(q["triangles"])
flat = np.array(q["flat"])  # triangle, corner, weft and warp
start = np.array(q["start"])
free = ~np.array(q["held"])

EDGES = np.swapaxes(np.stack([flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]], axis=1), 1, 2)
INVERSE = np.linalg.inv(EDGES)
AREA = 0.5 * np.abs(np.linalg.det(EDGES))
VERTEX_AREA = np.zeros(len(start))
np.add.at(VERTEX_AREA, triangles, AREA[:, None] / 3)


def gradients(x):
    """How each triangle is laid in space: a row for weft and one for warp."""
    corners = x[..., triangles, :]
    sides = corners[..., 1:, :] - corners[..., :1, :]
    return np.einsum("tki,...tkc->...tic", INVERSE, sides)


def thread(k, strain):
    """½kE² pulled, a share of it pressed; the second derivative runs over between them."""
    soft, range_ = k * m["pressed"], q["slackening"]
    width = 2 * range_

    def twice(e):
        t = (e + range_) / width
        over = e - range_
        inside = width**2 * (t**4 / 4 - t**5 / 10)
        outside = 0.15 * width**2 + 0.5 * width * over + 0.5 * over**2
        return np.where(t.real <= 0, 0, np.where(t.real < 1, inside, outside))

    nought = np.zeros(1)
    lean = 3 / 32 * width  # the first integral of 3t² − 2t³ up to ½
    return 0.5 * soft * strain**2 + (k - soft) * (twice(strain) - twice(nought) - lean * strain)


def stretch(f):
    u, v = f[..., 0, :], f[..., 1, :]
    weft, warp = 0.5 * ((u * u).sum(-1) - 1), 0.5 * ((v * v).sum(-1) - 1)
    slant = (u * v).sum(-1)
    each = thread(m["weft"], weft) + thread(m["warp"], warp) + 0.5 * m["shear"] * slant**2
    return (AREA * each).sum(-1)


def hinges():
    """Edges of two triangles: for each side the triangle, its edge's length and the
    outward normal in its own flat."""
    sides = {}
    for t, corners in enumerate(triangles):
        for k in range(3):
            a, b = flat[t, k], flat[t, (k + 1) % 3]
            along = (b - a) / np.linalg.norm(b - a)
            outward = np.array([along[1], -along[0]])
            if np.dot(outward, flat[t, (k + 2) % 3] - a) > 0:
                outward = -outward
            edge = tuple(sorted((corners[k], corners[(k + 1) % 3])))
            sides.setdefault(edge, []).append((t, np.linalg.norm(b - a), outward))
    return [s for s in sides.values() if len(s) == 2]


HINGES = hinges()


def bending(f):
    """½BA|H|², H = (1/2A) Σ l J n nᵀ; at the rim each jump by itself."""
    own = {}
    for first, second in HINGES:
        jump = 0
        for t, _, outward in (first, second):
            jump = jump + np.einsum("i,...ic->...c", outward, f[..., t, :, :])
        for t, length, outward in (first, second):
            own.setdefault(t, []).append((length * jump, outward, AREA[first[0]] + AREA[second[0]]))
    energy = 0
    for t, jumps in own.items():
        if len(jumps) == 3:
            h = sum(np.einsum("...c,i,j->...cij", lj, n, n) for lj, n, _ in jumps) / (2 * AREA[t])
            energy = energy + 0.5 * m["bending"] * AREA[t] * (h * h).sum((-1, -2, -3))
        else:
            part = 3 * AREA[t] / len(jumps)
            for lj, _, areas in jumps:
                energy = energy + 0.5 * m["bending"] * part * (lj * lj).sum(-1) / areas**2
    return energy


def contact(x):
    if q["ball"] is None:
        return 0
    touch, (cx, cy, cz, radius) = q["touch"], q["ball"]
    way = x - np.array([cx, cy, cz])
    depth = touch["offset"] - (np.sqrt((way * way).sum(-1)) - radius)
    k, soft = touch["stiffness"], touch["soft"]
    # Pressure k d²/2s up to d = s, then k (d − s/2).
    rising = k * depth**3 / (6 * soft)
    steady = k * soft**2 / 6 + 0.5 * k * (depth**2 - soft * depth)
    energy = np.where(depth.real <= 0, 0, np.where(depth.real < soft, rising, steady))
    return (VERTEX_AREA * energy).sum(-1)


def energy(x):
    f = gradients(x)
    weight = (m["weight"] * VERTEX_AREA * x[..., 2]).sum(-1)
    return stretch(f) + bending(f) + contact(x) + weight


def places(values):
    x = np.broadcast_to(start, values.shape[:-1] + start.shape).astype(values.dtype)
    x[..., free, :] = values.reshape(values.shape[:-1] + (-1, 3))
    return x


STEP = 1e-30


def slope(values):
    moved = values + 1j * STEP * np.eye(values.size)
    return energy(places(moved)).imag / STEP


def bend(values):
    """Second derivatives: central differences of the exact slope."""
    h = 1e-5
    columns = [(slope(values + h * e) - slope(values - h * e)) / (2 * h) for e in np.eye(values.size)]
    matrix = np.array(columns)
    return 0.5 * (matrix + matrix.T)


def value(values):
    return float(energy(places(values)))


begun = start[free].ravel()
found = minimize(value, begun, jac=slope, method="BFGS", options={"gtol": 1e-7, "maxiter": 4000})
found = minimize(value, found.x, jac=slope, hess=bend, method="trust-exact", options={"gtol": 1e-10, "maxiter": 60})
json.dump(
    {
        "start": value(begun),
        "least": float(found.fun),
        "slope": float(np.linalg.norm(slope(found.x))),
        "of_theirs": value(np.array(q["rest"])[free].ravel()),
    },
    sys.stdout,
)
