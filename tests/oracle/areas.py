"""Areas of closed outlines: Green's integral 1/2 (x dy - y dx) by quadrature
(scipy.integrate.quad), and the area of a dense polygon (shapely)."""

from bezier import answer, bernstein, dense, hodograph
from scipy.integrate import quad
from shapely import Polygon


def green(segment):
    d = hodograph(segment)
    xs, ys = [p[0] for p in segment], [p[1] for p in segment]
    dxs, dys = [p[0] for p in d], [p[1] for p in d]

    def swept(t):
        return 0.5 * (bernstein(xs, t) * bernstein(dys, t) - bernstein(ys, t) * bernstein(dxs, t))

    return quad(swept, 0.0, 1.0, epsabs=1e-10, epsrel=1e-13)[0]


def measure(chain):
    polygon = Polygon(dense(chain, 2000))
    return {"green": sum(green(s) for s in chain),
            "polygon": polygon.area,
            "simple": polygon.is_valid}


answer(lambda q: [measure(chain) for chain in q["chains"]])
