#!/usr/bin/env python3
"""The benchmark `frames` against scripts that a user would write with numpy.

    engine/solver/benches/peers/frames.py [--runs 7]

Needs numpy and scipy in the python that runs it. All get the same frame: 60 members, 120 unknowns, 12
load cases; stiffness, solution, end forces and von Mises stress of every design. `plain` loops over the
members; `careful` does all members at once and scatters by a list made before. All take turns, one
thread each; medians of CPU time are compared. Dense and sparse factors of faer, which get the matrix
assembled, solve it one design at a time; the batch is given with all it does. What two threads would
do on an idle machine is told by the CPU time that both take together, twice that of one being no gain
lost; wall time means something only there, so the load average is printed.
"""

import argparse
import os
import pathlib
import statistics
import subprocess
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np  # noqa: E402
import scipy.linalg as sl  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[3]
E, G, MODULUS = 205e9, 205e9 / 2.6, 2e-6


def bench():
    """Path of the built benchmark."""
    command = ["cargo", "bench", "-p", "fishplate-solver", "--bench", "frames", "--no-run"]
    told = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stderr
    path = told.rsplit("(", 1)[1].split(")")[0]
    return str((ROOT / path).resolve())


class Frame:
    """The frame as the benchmark writes it down, with the numbers of its first design."""

    def __init__(self, text):
        rows = {"node": [], "beam": [], "clamped": [], "load": []}
        for line in text.splitlines():
            name, *words = line.split()
            rows[name].append([float(word) for word in words])
        self.nodes = np.array(rows["node"])
        beams = np.array(rows["beam"])
        self.ends = beams[:, :2].astype(int)
        self.area, self.i_y, self.i_z, self.twist = beams[:, 2:].T
        held = np.array(rows["clamped"]).astype(int).ravel()
        size = 6 * len(self.nodes)
        fixed = (6 * held[:, None] + np.arange(6)).ravel()
        self.free = np.setdiff1d(np.arange(size), fixed)
        cases = int(max(row[0] for row in rows["load"])) + 1
        self.loads = np.zeros((size, cases))
        for case, node, *load in rows["load"]:
            self.loads[6 * int(node) : 6 * int(node) + 6, int(case)] += load
        # What a careful script makes once: where entries of members go in the full matrix.
        self.movements = np.concatenate(
            [6 * self.ends[:, :1] + np.arange(6), 6 * self.ends[:, 1:] + np.arange(6)], 1
        )
        place = np.full(size, -1)
        place[self.free] = np.arange(len(self.free))
        own = place[self.movements]
        row, column = np.repeat(own, 12, 1).ravel(), np.tile(own, (1, 12)).ravel()
        self.used = (row >= 0) & (column >= 0)
        self.place = (row * len(self.free) + column)[self.used]


def axes(along):
    """Local axes as rows: z as far up as it can, y square to both."""
    x = along / np.linalg.norm(along)
    up = np.array([0.0, 0.0, 1.0]) - x[2] * x
    z = up / np.linalg.norm(up)
    return np.array([x, np.cross(z, x), z])


def local_stiffness(k, length, area, i_y, i_z, twist):
    """Euler-Bernoulli member (Przemieniecki, Theory of Matrix Structural Analysis, 1968, ch. 5) into
    k[..., 12, 12]."""

    def put(i, j, value):
        k[..., i, j] = value
        k[..., j, i] = value

    for at, value in ((0, E * area / length), (3, G * twist / length)):
        put(at, at, value)
        put(at + 6, at + 6, value)
        put(at, at + 6, -value)
    for v, r, inertia, sign in ((1, 5, i_z, 1.0), (2, 4, i_y, -1.0)):
        bend = E * inertia / length
        shear, slope = 12 * bend / length**2, sign * 6 * bend / length
        put(v, v, shear)
        put(v + 6, v + 6, shear)
        put(v, v + 6, -shear)
        for other in (r, r + 6):
            put(v, other, slope)
            put(v + 6, other, -slope)
            put(other, other, 4 * bend)
        put(r, r + 6, 2 * bend)
    return k


def stress(forces, area):
    """Largest von Mises stress of ends (..., 12, cases)."""
    worst = 0.0
    for end in (0, 6):
        n, t = forces[..., end, :], forces[..., end + 3, :]
        bent = np.abs(forces[..., end + 4, :]) + np.abs(forces[..., end + 5, :])
        normal = np.abs(n) / area + bent / MODULUS
        worst = max(worst, np.sqrt(normal**2 + 3 * (t / (2 * MODULUS)) ** 2).max())
    return worst


def plain(f):
    """A loop over the members."""
    size = 6 * len(f.nodes)
    matrix = np.zeros((size, size))
    kept = []
    for index, (a, b) in enumerate(f.ends):
        along = f.nodes[b] - f.nodes[a]
        turn = np.zeros((12, 12))
        for i in range(0, 12, 3):
            turn[i : i + 3, i : i + 3] = axes(along)
        numbers = (f.area[index], f.i_y[index], f.i_z[index], f.twist[index])
        k = local_stiffness(np.zeros((12, 12)), np.linalg.norm(along), *numbers)
        movements = np.r_[6 * a : 6 * a + 6, 6 * b : 6 * b + 6]
        matrix[np.ix_(movements, movements)] += turn.T @ k @ turn
        kept.append((turn, k, movements))
    moved = np.zeros_like(f.loads)
    factor = sl.cho_factor(matrix[np.ix_(f.free, f.free)])
    moved[f.free] = sl.cho_solve(factor, f.loads[f.free])
    worst = 0.0
    for index, (turn, k, movements) in enumerate(kept):
        worst = max(worst, stress(k @ (turn @ moved[movements]), f.area[index]))
    return worst


def careful(f):
    """All members at once."""
    along = f.nodes[f.ends[:, 1]] - f.nodes[f.ends[:, 0]]
    length = np.linalg.norm(along, axis=1)
    x = along / length[:, None]
    up = np.array([0.0, 0.0, 1.0]) - x[:, 2:] * x
    z = up / np.linalg.norm(up, axis=1)[:, None]
    local = np.stack([x, np.cross(z, x), z], axis=1)
    turn = np.zeros((len(length), 12, 12))
    for i in range(0, 12, 3):
        turn[:, i : i + 3, i : i + 3] = local
    k = local_stiffness(np.zeros((len(length), 12, 12)), length, f.area, f.i_y, f.i_z, f.twist)
    entries = (turn.transpose(0, 2, 1) @ k @ turn).reshape(-1)[f.used]
    count = len(f.free)
    matrix = np.bincount(f.place, entries, count**2).reshape(count, count)
    moved = np.zeros_like(f.loads)
    factor = sl.cho_factor(matrix, check_finite=False)
    moved[f.free] = sl.cho_solve(factor, f.loads[f.free], check_finite=False)
    return stress(k @ (turn @ moved[f.movements]), f.area[:, None])


class Peer:
    """The benchmark, which measures once for each line it is sent."""

    def __init__(self, program):
        pipe = subprocess.PIPE
        self.process = subprocess.Popen([program, "serve"], stdin=pipe, stdout=pipe, text=True)

    def run(self, line):
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()
        words = self.process.stdout.readline().split()
        return {name: float(value) for name, value in zip(words[::2], words[1::2])}


def timed(run, frame, count):
    """CPU microseconds of one run, and its result."""
    start = time.process_time()
    for _ in range(count):
        found = run(frame)
    return (time.process_time() - start) / count * 1e6, found


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=7)
    asked = parser.parse_args()
    program = bench()
    told = subprocess.run([program, "describe"], check=True, capture_output=True, text=True)
    frame = Frame(told.stdout)
    peer = Peer(program)
    times = {}
    for _ in range(asked.runs):
        for line in ("widest 1", "single 1", "widest 2", "dense", "sparse"):
            run = peer.run(line)
            times.setdefault(line, []).append(run["cpu"])
            if line == "widest 1":
                ours = run
        for name, script, count in (("plain", plain, 5), ("careful", careful, 40)):
            micro, worst = timed(script, frame, count)
            times.setdefault(name, []).append(micro)
            apart = abs(worst / ours["stress"] - 1)
            if not apart < 1e-10:
                sys.exit(f"{name} differs from the benchmark by {apart:.1e}")
    median = {name: statistics.median(values) for name, values in times.items()}
    us = median["widest 1"]
    print(f"load average {os.getloadavg()[0]:.1f}; CPU microseconds a design, medians of {asked.runs}:")
    print(", ".join(f"{name} {value:.1f}" for name, value in median.items()))
    print(f"largest residual {ours['residual']:.1e}; stress equal to both scripts to 1e-10")
    print("\n| goal | must | stretch | ratio | met |\n|---|---|---|---|---|")
    for name, must, stretch, ratio in (
        ("careful numpy / batch", 20, 35, median["careful"] / us),
        ("plain numpy / batch", 300, 500, median["plain"] / us),
        ("faer dense, factor and solve / whole batch", 4, 6, median["dense"] / us),
        ("faer sparse, factor and solve / whole batch", 5, 8, median["sparse"] / us),
        ("2 threads / 1, designs a second", 1.8, 1.95, 2 * us / median["widest 2"]),
    ):
        met = "stretch" if ratio >= stretch else "must" if ratio >= must else "MISSED"
        print(f"| {name} | {must} | {stretch} | {ratio:.2f} | {met} |")


if __name__ == "__main__":
    main()
