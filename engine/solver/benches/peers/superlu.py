"""A peer of the benchmark `sparse`: scipy's splu on equations from a file, one measurement for
each line on standard input."""

import sys
import time

import numpy as np
import scipy.sparse as sp
from scipy.sparse.linalg import splu


def load(path):
    """The full symmetric matrix, with entries that happen to be zero, and the right-hand sides."""
    with open(path, "rb") as file:
        _, size, entries, columns = np.fromfile(file, np.int64, 4)
        start = np.fromfile(file, np.int64, size + 1)
        row = np.fromfile(file, np.int64, entries)
        value = np.fromfile(file, np.float64, entries)
        loads = np.fromfile(file, np.float64, size * columns).reshape(columns, size).T
    column = np.repeat(np.arange(size), np.diff(start))
    off = row != column
    # A sum of sparse matrices would drop the zeros.
    place = (np.r_[row, column[off]], np.r_[column, row[off]])
    matrix = sp.coo_matrix((np.r_[value, value[off]], place), shape=(size, size)).tocsc()
    return matrix, np.asfortranarray(loads)


MATRIX, LOADS = load(sys.argv[1])
for _ in sys.stdin:
    start = time.process_time()
    factor = splu(
        MATRIX,
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    factored = time.process_time()
    x = factor.solve(LOADS)
    solved = time.process_time()
    rest = np.abs(MATRIX @ x - LOADS).max(axis=0)
    residual = (rest / np.abs(x).max(axis=0)).max() / np.abs(MATRIX.data).max()
    print(
        f"factor {1e3 * (factored - start)} solve {1e3 * (solved - factored)} "
        f"cpu {1e3 * (solved - start)} residual {residual} entries {factor.nnz}",
        flush=True,
    )
