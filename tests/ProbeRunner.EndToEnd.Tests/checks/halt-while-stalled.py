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
WRITE = ("1", "64")  # its number on x86-64, on arm64
HALT_LINE = "M112"  # the words of the simulated printer's dialect


def stall(master, tracer):
    """Has the screens drawn again and again without reading what they send, until a thread hangs in its write to the terminal."""
    program = int(open(f"/proc/{tracer}/task/{tracer}/children").read().split()[0])
    for _ in range(600):
        os.write(master, b"?\x1b")
        time.sleep(0.05)
        hanging = threads_writing(program)
        if hanging:
            time.sleep(0.3)
            if hanging & threads_writing(program):
                return
    raise SystemExit("The screens could not be made to stall.")


def threads_writing(program):
    """The threads that are inside a write to the terminal now."""
    found = set()
    for thread in os.listdir(f"/proc/{program}/task"):
        try:
            call = open(f"/proc/{program}/task/{thread}/syscall").read().split()
        except OSError:  # the thread has ended
            continue
        if call[0] in WRITE and call[1] == "0x1":
            found.add(thread)
    return found


def trial(command):
    folder = folder_with_soak()
    trace = f"{folder}/trace"
    pid, master, seen = open_program(["strace", "-f", "--seccomp-bpf", "-ttt", "-s", "64", "-e", "trace=read,write", "-o", trace] + command, folder)
    try:
        begin_soak(master, seen)
        stall(master, pid)
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
