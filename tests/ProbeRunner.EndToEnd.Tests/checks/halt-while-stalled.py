#!/usr/bin/env python3
"""F9 reaches the wire while the screens are stuck: the terminal takes no more output (a stalled ssh, Ctrl-S), so that the thread that
draws hangs in its write, and the halt key is typed. Traced are the reads and writes of the program, which slows it: the figures are
upper limits.

  halt-while-stalled.py [--trials N] COMMAND...     e.g.  halt-while-stalled.py dotnet artifacts/bin/.../proberunner.dll
Needs strace. Exit code 1 when a halt took longer than LIMIT_MS or did not come.
"""
import os, re, sys, time

from screens_on_pty import begin_soak, folder_with_soak, open_program, read_for

LIMIT_MS = 50
HALT_LINE = "M112"  # the words of the simulated printer's dialect


def stall(master, trace):
    """Has the screens drawn again and again without reading what they send, until a write to the terminal does not return."""
    for _ in range(200):
        os.write(master, b"?\x1b")
        time.sleep(0.05)
        lines = open(trace, errors="replace").read().splitlines()
        drawing = [line for line in lines if re.search(r"\bwrite\(1,|<\.\.\. write resumed", line)]
        if drawing and drawing[-1].endswith("<unfinished ...>"):
            thread = drawing[-1].split()[0]
            time.sleep(0.3)
            last = [line for line in open(trace, errors="replace").read().splitlines() if line.split()[0] == thread][-1]
            if last.endswith("<unfinished ...>"):
                return
    raise SystemExit("The screens could not be made to stall.")


def trial(command):
    folder = folder_with_soak()
    trace = f"{folder}/trace"
    pid, master, _ = open_program(["strace", "-f", "--seccomp-bpf", "-ttt", "-s", "64", "-e", "trace=read,write", "-o", trace] + command, folder)
    try:
        begin_soak(master)
        stall(master, trace)
        typed = time.time()
        os.write(master, b"\x1b[20~")
        time.sleep(1)
        sent = [float(line.split()[1]) for line in open(trace, errors="replace") if re.search(r"\bwrite\(", line) and HALT_LINE in line]
        if not sent:
            raise SystemExit("The halt line did not reach the wire.")
        said = read_for(master, 20, b"HALT sent")
        if b"HALT sent" not in said or b"could NOT" in said:
            raise SystemExit("The screens did not say that the halt was sent.")
        return (sent[0] - typed) * 1000
    finally:
        os.close(master)  # the terminal closes: the program ends by itself
        os.waitpid(pid, 0)


def main():
    trials = 1
    if sys.argv[1] == "--trials":
        trials = int(sys.argv[2])
        del sys.argv[1:3]
    took = sorted(trial(sys.argv[1:]) for _ in range(trials))
    print(f"F9 to the wire with stalled screens: median {took[len(took) // 2]:.1f} ms, worst {took[-1]:.1f} ms, of {trials}")
    sys.exit(1 if took[-1] > LIMIT_MS or took[0] < 0 else 0)


main()
