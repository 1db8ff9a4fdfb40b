#!/usr/bin/env python3
"""The benchmark `sparse` against peers: CHOLMOD (with OpenBLAS) and scipy's SuperLU.

    engine/solver/benches/peers/compare.py [--runs 5] [--cases 2k,20k,100k,300k]

Needs a C compiler, libsuitesparse-dev, libopenblas-dev, and numpy and scipy in the python that
runs it. All solvers stay loaded with the same equations and take turns, one run each; medians of
CPU time are compared, at one thread. The peers are set up as well as is known: one thread in
OpenMP and OpenBLAS (CHOLMOD else starts a team that costs it half its speed), the kernels of
OpenBLAS for the processor's widest registers, structural zeros kept, SuperLU in symmetric mode.
Two threads are compared by the CPU time of the calling thread, which does all that isn't shared;
the wall time beside it means something only on an idle machine, so the load average is printed.
"""

import argparse
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[3]


def environment():
    """One thread each; the widest kernels, which old releases of OpenBLAS do not choose."""
    found = dict(os.environ)
    for name in ("OMP_THREAD_LIMIT", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        found[name] = "1"
    flags = pathlib.Path("/proc/cpuinfo")
    if flags.exists() and "avx512f" in flags.read_text():
        found.setdefault("OPENBLAS_CORETYPE", "SkylakeX")
    return found


def bench():
    """Path of the built benchmark."""
    command = ["cargo", "bench", "-p", "fishplate-solver", "--bench", "sparse", "--no-run"]
    told = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stderr
    path = told.rsplit("(", 1)[1].split(")")[0]
    return str((ROOT / path).resolve())


class Peer:
    """A solver that measures once for each line it is sent."""

    def __init__(self, command):
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(
            command, stdin=pipe, stdout=pipe, text=True, env=environment()
        )
        self.runs = {}

    def run(self, line):
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()
        words = self.process.stdout.readline().split()
        told = {name: float(value) for name, value in zip(words[::2], words[1::2])}
        self.runs.setdefault(line, []).append(told)

    def median(self, line, name="cpu"):
        return statistics.median(run[name] for run in self.runs[line])

    def worst(self, name):
        return max(run[name] for runs in self.runs.values() for run in runs)

    def close(self):
        self.process.stdin.close()
        self.process.wait()


def of_case(program, cholmod, case, runs, folder):
    """Our solver in both axes, and the peers on both matrices, by turns."""
    files = {}
    for axes in ("plates", "global"):
        files[axes] = str(folder / f"{case}-{axes}.bin")
        subprocess.run([program, "write", case, axes, files[axes]], check=True)
    ours = {axes: Peer([program, "serve", case, axes]) for axes in files}
    theirs = {axes: Peer([cholmod, files[axes]]) for axes in files}
    superlu = None
    if case.startswith("bracket100k"):
        superlu = Peer([sys.executable, str(HERE / "superlu.py"), files["global"]])
    for run in range(runs):
        for axes in files:
            for line in ("1 new", "1 repeat"):
                ours[axes].run(line)
            theirs[axes].run("amd")
            theirs[axes].run("metis")
            ours[axes].run("2 new")
        if superlu and run < 3:
            superlu.run("go")
    for peer in [*ours.values(), *theirs.values()] + ([superlu] if superlu else []):
        peer.close()
    for file in files.values():
        os.remove(file)
    return ours, theirs, superlu


def tell(name, must, stretch, ratio):
    verdict = "stretch" if ratio <= stretch else "must" if ratio <= must else "MISSED"
    print(f"| {name} | {must:.2f} | {stretch:.2f} | {ratio:.2f} | {verdict} |", flush=True)


def report(case, ours, theirs, superlu):
    for axes, us in ours.items():
        them = theirs[axes]
        print(
            f"\n{case}, {axes} axes: ours order {us.median('1 new', 'order'):.1f}, factor "
            f"{us.median('1 new', 'factor'):.1f}, solve {us.median('1 new', 'solve'):.1f}, all "
            f"{us.median('1 new'):.1f}; CHOLMOD AMD order {them.median('amd', 'order'):.1f}, "
            f"factor {them.median('amd', 'factor'):.1f}, solve {them.median('amd', 'solve'):.1f}, "
            f"all {them.median('amd'):.1f}; METIS all {them.median('metis'):.1f} ms of CPU; "
            f"residuals {us.worst('residual'):.1e}, {them.worst('residual'):.1e}; peaks "
            f"{us.worst('peak') / 1024:.0f}, {them.worst('peak') / 1024:.0f} MB; factor entries "
            f"{us.worst('entries'):.3g}, {them.worst('entries'):.3g}",
            flush=True,
        )
    goals = {"2k": (0.85, 0.65), "20k": (0.85, 0.65), "100k": (0.90, 0.70), "300k": (0.95, 0.75)}
    size = case.removeprefix("bracket").removeprefix("tube")
    print("\n| goal | must | stretch | ratio | met |\n|---|---|---|---|---|")
    for axes, us in ours.items():
        them = theirs[axes]
        if case.startswith("tube"):
            best = min(them.median("amd"), them.median("metis"))
            tell(f"{axes} axes, all / best of CHOLMOD", 0.90, 0.75, us.median("1 new") / best)
        else:
            ratio = us.median("1 new") / them.median("amd")
            tell(f"{axes} axes, all / CHOLMOD AMD", *goals[size], ratio)
        again = [run["factor"] + run["solve"] for run in them.runs["amd"]]
        ratio = us.median("1 repeat") / statistics.median(again)
        tell(f"{axes} axes, repeat / CHOLMOD without analysis", 1.0, 0.75, ratio)
        if size in ("100k", "300k"):
            bytes_each = 1024 * (us.worst("peak") - us.worst("before")) / us.worst("entries")
            tell(f"{axes} axes, memory / CHOLMOD", 1.15, 0.90, us.worst("peak") / them.worst("peak"))
            tell(f"{axes} axes, bytes a factor entry", 13.5, 10.5, bytes_each)
        path, wall = (us.median("2 new", name) / us.median("1 new", name) for name in ("path", "wall"))
        name = f"{axes} axes, 2 threads / 1 (wall {wall:.2f} at load {os.getloadavg()[0]:.1f})"
        tell(name, 0.75, 0.60, path)
    if not case.startswith("tube"):
        ratio = ours["plates"].median("1 new") / theirs["global"].median("amd")
        tell("ours in plates' axes / CHOLMOD AMD in global axes", 0.65, 0.45, ratio)
    if superlu:
        ratio = ours["global"].median("1 new") / superlu.median("go")
        tell("global axes, all / SuperLU", 0.30, 0.20, ratio)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--cases", default="2k,20k,100k,300k")
    asked = parser.parse_args()
    program = bench()
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        cholmod = str(folder / "cholmod")
        source = [str(HERE / "cholmod.c"), "-o", cholmod, "-lcholmod", "-lopenblas", "-lm"]
        subprocess.run(["cc", "-O2", *source], check=True)
        for size in asked.cases.split(","):
            for shape in ("bracket", "tube"):
                case = shape + size
                report(case, *of_case(program, cholmod, case, asked.runs, folder))


if __name__ == "__main__":
    main()
