#!/usr/bin/env python3
"""Figures of the bench screens on a pseudo-terminal of 120 x 36: first frame, idle CPU, resident memory, key to screen.

  screens-figures.py [--soak MINUTES] COMMAND...     e.g.  screens-figures.py ./published/proberunner

With --soak, a run on the simulated printer, fast enough for about a hundred events a second, goes on meanwhile: memory at its beginning and
end, and keys that open and close the help are timed until the help stands there.
Key to screen is the time from writing an arrow key until the mark of the chosen line has come at its new place.
Idle CPU is of the process with nothing under way. Run it on a quiet computer; figures of a busy one say nothing.
"""
import os, statistics, sys, time

from screens_on_pty import cpu_seconds, folder_with_soak, open_program, read_for, resident_mib, soak

KEYS = 200
MARK = "▶".encode()  # of the chosen line: it has moved
IDLE_SECONDS = 20
SOAK_SPEED = "400"


def main():
    minutes = 0.0
    if sys.argv[1] == "--soak":
        minutes = float(sys.argv[2])
        del sys.argv[1:3]
    folder = folder_with_soak()
    began = time.monotonic()
    pid, master, seen = open_program(sys.argv[1:] + (["--speed", SOAK_SPEED] if minutes else []), folder)
    first = time.monotonic() - began
    seen += read_for(master, 3)

    before = cpu_seconds(pid)
    read_for(master, IDLE_SECONDS)
    idle = (cpu_seconds(pid) - before) / IDLE_SECONDS

    latencies = []
    for key in range(KEYS):
        read_for(master, 0.06)
        sent = time.monotonic()
        os.write(master, b"\x1b[B" if key % 2 == 0 else b"\x1b[A")
        if MARK in read_for(master, 2, MARK):
            latencies.append(time.monotonic() - sent)
    latencies.sort()
    memory_busy = resident_mib(pid)
    read_for(master, 4)
    memory = resident_mib(pid)
    if minutes:
        print(*soak(master, seen, pid, folder, 60 * minutes).lines(), sep="\n")
    print(f"first frame       {first:.2f} s")
    print(f"idle CPU          {idle * 100:.2f} %")
    print(f"resident memory   {memory:.0f} MiB at rest, {memory_busy:.0f} MiB after {KEYS} keys in a row")
    print(f"key to screen     median {statistics.median(latencies) * 1000:.0f} ms, p95 {latencies[int(len(latencies) * 0.95)] * 1000:.0f} ms, of {len(latencies)} keys")


main()
