#!/usr/bin/env python3
"""Figures of the bench screens on a pseudo-terminal of 120 x 36: first frame, idle CPU, resident memory, key to screen.

  screens-figures.py [--soak MINUTES] COMMAND...     e.g.  screens-figures.py ./published/proberunner

With --soak, a run on the simulated printer, fast enough for about a hundred events a second, goes on meanwhile: memory at its beginning and
end, and keys that open and close the help are timed until the help stands there.
Key to screen is the time from writing a key to the first byte of the answer, after which the screen is drawn whole (one write).
Idle CPU is of the process with nothing under way. Run it on a quiet computer; figures of a busy one say nothing.
"""
import fcntl, os, pty, select, sqlite3, statistics, struct, sys, tempfile, termios, time

KEYS = 200
IDLE_SECONDS = 20


def cpu_seconds(pid):
    fields = open(f"/proc/{pid}/stat").read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def resident_mib(pid):
    return next(int(line.split()[1]) for line in open(f"/proc/{pid}/status") if line.startswith("VmRSS")) / 1024


def read_for(master, seconds, until=None):
    seen, end = b"", time.monotonic() + seconds
    while time.monotonic() < end:
        if select.select([master], [], [], min(0.05, max(0, end - time.monotonic())))[0]:
            try:
                seen += os.read(master, 65536)
            except OSError:  # the program has ended
                return seen
            if until and until in seen:
                return seen
    return seen


def answer_terminal_questions(master, seen):
    """A real terminal answers when it is asked what it is; without an answer the library waits."""
    if b"\x1b[c" in seen or b"\x1b[0c" in seen:
        os.write(master, b"\x1b[?62;22c")


SCRIPT = """title = "Soak"
purpose = "Touches as fast as they come."
[[step]]
do = "preflight"
questions = false
[[step]]
do = "first-lift"
confirm = false
[[step]]
do = "home"
[[step]]
do = "series"
most_readings = 40
[[step]]
do = "grid"
columns = 50
rows = 50
touches = 10
"""


def soak(master, pid, folder, minutes):
    """Begins the run, then opens and closes the help while it goes on."""
    def press(keys, until=None, seconds=10):
        os.write(master, keys)
        return read_for(master, seconds, until)

    press(b"1", seconds=0.5)
    for _ in range(4):
        press(b"\x1b[B", seconds=0.3)
    press(b"2", seconds=0.3)
    press(b"\x1b[H", seconds=0.3)
    for _ in range(3):
        if b"untouched" in press(b"\x1b[B", seconds=0.5):  # the scenario's own words: the good machine is chosen
            break
    press(b"3", seconds=0.3)
    press(b"\x1b[F", seconds=0.5)
    press(b"\r", seconds=1)
    press(b"b", seconds=20)
    latencies, start, cpu, began = [], resident_mib(pid), cpu_seconds(pid), time.monotonic()
    while time.monotonic() - began < minutes * 60:
        read_for(master, 0.4)
        sent = time.monotonic()
        if b"Help" in press(b"?", b"Help", 2):
            latencies.append(time.monotonic() - sent)
        press(b"\x1b", seconds=0.4)
    took = time.monotonic() - began
    latencies.sort()
    print(f"soak              {took / 60:.1f} min, memory {start:.0f} -> {resident_mib(pid):.0f} MiB, CPU {(cpu_seconds(pid) - cpu) / took * 100:.1f} %")
    print(f"key to help       median {statistics.median(latencies) * 1000:.0f} ms, p95 {latencies[int(len(latencies) * 0.95)] * 1000:.0f} ms, of {len(latencies)} keys")
    store = f"{folder}/proberunner/runs.db"
    connection = sqlite3.connect(store)
    table = next(name for (name,) in connection.execute("select name from sqlite_master where type = 'table' and name like '%entr%'"))
    facts = connection.execute(f"select count(*) from {table}").fetchone()[0]
    print(f"recorded          {facts} facts, {facts / took:.0f} a second; each tells two to three events")
    os.write(master, b"\x03")
    read_for(master, 20)


def main():
    minutes = 0.0
    if sys.argv[1] == "--soak":
        minutes = float(sys.argv[2])
        del sys.argv[1:3]
    folder = tempfile.mkdtemp(prefix="proberunner-figures-")
    os.makedirs(f"{folder}/proberunner/runs")
    with open(f"{folder}/proberunner/runs/soak.toml", "w") as script:
        script.write(SCRIPT)
    began = time.monotonic()
    pid, master = pty.fork()
    if pid == 0:
        os.environ.update(TERM="xterm-256color", COLORTERM="truecolor", LANG="C.UTF-8", XDG_CONFIG_HOME=folder, XDG_DATA_HOME=folder)
        os.environ.pop("NO_COLOR", None)
        os.execvp(sys.argv[1], sys.argv[1:] + (["--speed", "400"] if minutes else []))
    fcntl.ioctl(master, termios.TIOCSWINSZ, struct.pack("HHHH", 36, 120, 0, 0))
    seen, first = b"", None
    while first is None and time.monotonic() - began < 30:
        chunk = read_for(master, 0.02)
        answer_terminal_questions(master, chunk)
        seen += chunk
        if b"emergency" in seen:
            first = time.monotonic() - began
    read_for(master, 3)

    before = cpu_seconds(pid)
    read_for(master, IDLE_SECONDS)
    idle = (cpu_seconds(pid) - before) / IDLE_SECONDS

    latencies = []
    for key in range(KEYS):
        read_for(master, 0.06)
        sent = time.monotonic()
        os.write(master, b"\x1b[B" if key % 2 == 0 else b"\x1b[A")
        if select.select([master], [], [], 2)[0]:
            latencies.append(time.monotonic() - sent)
    latencies.sort()
    memory = resident_mib(pid)
    if minutes:
        soak(master, pid, folder, minutes)
    print(f"first frame       {first:.2f} s")
    print(f"idle CPU          {idle * 100:.2f} %")
    print(f"resident memory   {memory:.0f} MiB")
    print(f"key to screen     median {statistics.median(latencies) * 1000:.0f} ms, p95 {latencies[int(len(latencies) * 0.95)] * 1000:.0f} ms, of {len(latencies)} keys")


main()
