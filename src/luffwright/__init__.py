"""Luffwright: compute how a boat's sails should be set, and why."""

import os

# Matrices here have a few hundred rows: several threads on one of them wait for each other and are
# 10 to 40 times slower than one, all the more when `batch` works on every core. NumPy's libraries
# read this once, when they are loaded, so it stands before any import of them. Who sets it knows.
for _threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_threads, "1")
