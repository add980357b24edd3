"""Time of the minimum zone of 100,000 points by convex hull and linear programme: scipy, one run by hand, beside MinimumZoneTimes."""
import time

import numpy as np
import scipy
from scipy.optimize import linprog
from scipy.spatial import ConvexHull

random = np.random.default_rng(1)
count = 100_000
x, y = random.uniform(0, 220, count), random.uniform(0, 220, count)
z = 0.3 * np.sin(x / 60) + 0.2 * np.cos(y / 45) + 0.005 * random.standard_normal(count)


def zone(x, y, z):
    one = np.ones_like(x)
    upper = np.column_stack([-x, -y, -one, -one / 2])
    lower = np.column_stack([x, y, one, -one / 2])
    return linprog([0, 0, 0, 1], A_ub=np.vstack([upper, lower]), b_ub=np.concatenate([-z, z]), bounds=[(None, None)] * 4, method="highs").x


times = []
for _ in range(5):
    start = time.perf_counter()
    kept = ConvexHull(np.column_stack([x / 220, y / 220, z])).vertices
    answer = zone(x[kept], y[kept], z[kept])
    times.append(time.perf_counter() - start)
start = time.perf_counter()
whole = zone(x, y, z)
plain = time.perf_counter() - start
print(f"scipy {scipy.__version__}: hull and programme {1e3 * np.median(times):.1f} ms, programme alone {1e3 * plain:.0f} ms, widths {answer[3]:.9f} {whole[3]:.9f}")
