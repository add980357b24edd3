#!/usr/bin/env python3
"""A minute of a run that tells more than a hundred events a second, on the bench screens, with keys pressed meanwhile: memory must not grow,
keys must be answered, the run must go on. Prints what it came to. Ten minutes, on a quiet computer and the published form:
screens-figures.py.

  screens-soak.py COMMAND...     e.g.  screens-soak.py dotnet artifacts/bin/.../proberunner.dll
The limits leave room for a slow computer that compiles as it goes; what is measured is printed.
"""
import os, signal, sys

from screens_on_pty import folder_with_soak, open_program, read_for, soak

SECONDS = 60
MOST_GROWTH_MIB = 20  # of the last third over the second
MOST_KEY_MS = 500  # p95
LEAST_FACTS = 20  # a second


def main():
    folder = folder_with_soak()
    pid, master, seen = open_program(sys.argv[1:] + ["--speed", "400"], folder)
    try:
        came = soak(master, seen, pid, folder, SECONDS)
        os.kill(pid, signal.SIGTERM)
        read_for(master, 10)
    finally:
        try:
            os.kill(pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
        os.waitpid(pid, 0)
    print(*came.lines(), sep="\n")
    third = SECONDS / 3
    growth = came.usual_memory(2 * third, SECONDS) - came.usual_memory(third, 2 * third)
    print(f"growth            {growth:.1f} MiB from the median of the second third to that of the last, at most {MOST_GROWTH_MIB}")
    wrong = [
        text
        for is_wrong, text in (
            (growth > MOST_GROWTH_MIB, "Memory grows."),
            (came.key_ms(0.95) > MOST_KEY_MS, f"Keys are answered late: p95 over {MOST_KEY_MS} ms."),
            (came.missed > len(came.keys) / 20, "Keys were not answered at all."),
            (came.facts < LEAST_FACTS * came.seconds, f"The run went slowly: fewer than {LEAST_FACTS} facts a second."),
        )
        if is_wrong
    ]
    raise SystemExit(" ".join(wrong) or 0)


main()
