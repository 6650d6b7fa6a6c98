"""The peer's side of the current benchmark: spectrogram and windowed statistics of float32 samples, one thread."""
import json
import resource
import sys
import time

import numpy as np
import scipy
from scipy import signal

path, rate, window, repeats = sys.argv[1], float(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
sizes = [int(s) for s in sys.argv[5].split(",")]
samples = np.fromfile(path, dtype="<f4")
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def timed(work):
    clock, cpu = [], []
    for _ in range(repeats):
        start, busy = time.perf_counter(), time.process_time()
        result = work()
        clock.append(time.perf_counter() - start)
        cpu.append(time.process_time() - busy)
    return {"seconds": sorted(clock)[repeats // 2], "cpu": sorted(cpu)[repeats // 2]}, result


answer = {"version": scipy.__version__, "numpy": np.__version__, "spectrogram": {}}
for size in sizes:
    taken, (_, _, density) = timed(
        lambda: signal.spectrogram(samples, rate, window="hann", nperseg=size, noverlap=0, detrend="constant")
    )
    answer["spectrogram"][str(size)] = {**taken, "mean_density": float(density.astype(np.float64).mean())}
    del density


def statistics():
    rows = samples[: len(samples) // window * window].reshape(-1, window)
    mean = rows.mean(axis=1, dtype=np.float64)
    sd = rows.std(axis=1, dtype=np.float64)
    low, high = rows.min(axis=1), rows.max(axis=1)
    q = np.percentile(rows, [1, 5, 25, 50, 75, 95, 99], axis=1)
    return mean, sd, low, high, q


taken, (mean, sd, low, high, q) = timed(statistics)
answer["statistics"] = {**taken, "mean_sd": float(sd.mean()), "mean_q75": float(q[4].mean())}
answer["peak_MB"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
answer["samples_MB"] = samples.nbytes / 1e6
answer["start_MB"] = before / 1024
print(json.dumps(answer))
