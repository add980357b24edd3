"""Times of the reference library's Gaussian process for the tables that JointModelTimes prints: scikit-learn, one run by hand.

usage: python3 joint_model_times.py 900|2500 [--fixed]
The kernel's scales are fitted once from one start (or kept with --fixed), then a 100 x 100 map with its standard deviation is predicted.
"""
import sys
import time

import numpy as np
import sklearn
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import ConstantKernel, Matern, WhiteKernel

count = int(sys.argv[1])
random = np.random.default_rng(1)
side = int(round(count ** 0.5))
if count == 2500:
    xs = np.linspace(0, 220, side)
    places = np.array([[x, y] for y in xs for x in xs])
else:
    places = random.uniform(0, 220, (count, 2))
x, y = places.T
heights = 0.1 * np.sin(x / 35) * np.cos(y / 40) + 0.2 * ((x / 110 - 1) ** 2 - 1 / 3) + 0.003 * random.standard_normal(count)
kernel = ConstantKernel(0.05 ** 2, (1e-6, 1)) * Matern(45, (10, 400), nu=2.5) + WhiteKernel(0.003 ** 2, (1e-8, 1e-2))
start = time.perf_counter()
process = GaussianProcessRegressor(kernel, optimizer=None if "--fixed" in sys.argv else "fmin_l_bfgs_b").fit(places, heights)
fitted = time.perf_counter()
lattice = np.linspace(0, 220, 100)
process.predict(np.array([[a, b] for b in lattice for a in lattice]), return_std=True)
mapped = time.perf_counter()
print(f"scikit-learn {sklearn.__version__}: {count} readings, fit {fitted - start:.3f} s, map with sd {mapped - fitted:.3f} s, together {mapped - start:.3f} s")
