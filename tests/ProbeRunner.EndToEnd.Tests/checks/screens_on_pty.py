"""The bench screens on a pseudo-terminal of 120 x 36, for the checks beside this file: opened, and a long run begun that asks nothing."""
import fcntl, os, pty, select, sqlite3, statistics, struct, tempfile, termios, time
from dataclasses import dataclass

GRID = """[[step]]
do = "grid"
columns = 30
rows = 30
touches = 3
"""

# Half a minute a grid at the speed of the soak: steps end and maps are made many times in ten minutes.
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
""" + 24 * GRID

REMEMBERED = """machine = "wren-240"
port = "simulated:good"
visited = true
"""


def read_for(master, seconds, until=None):
    """What comes within a time, or until a text has come."""
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


def folder_with_soak():
    """A folder for settings and data, with the script and the choice of the simulated printer."""
    folder = tempfile.mkdtemp(prefix="proberunner-screens-")
    os.makedirs(f"{folder}/proberunner/runs")
    with open(f"{folder}/proberunner/runs/zz-soak.toml", "w") as script:
        script.write(SCRIPT)
    with open(f"{folder}/proberunner/screens.toml", "w") as remembered:
        remembered.write(REMEMBERED)
    return folder


def open_program(command, folder, before_exec=lambda: None):
    """Starts the screens and waits for their first frame: pid, master, what came so far."""
    pid, master = pty.fork()
    if pid == 0:
        os.environ.update(TERM="xterm-256color", COLORTERM="truecolor", LANG="C.UTF-8", XDG_CONFIG_HOME=folder, XDG_DATA_HOME=folder)
        os.environ.pop("NO_COLOR", None)
        before_exec()
        os.execvp(command[0], command)
    fcntl.ioctl(master, termios.TIOCSWINSZ, struct.pack("HHHH", 36, 120, 0, 0))
    seen, end = b"", time.monotonic() + 30
    while b"emergency" not in seen:
        if time.monotonic() > end:
            raise SystemExit("The first frame did not come.")
        chunk = read_for(master, 0.02)
        if b"\x1b[c" in chunk or b"\x1b[0c" in chunk:  # a real terminal says what it is when it is asked
            os.write(master, b"\x1b[?62;22c")
        seen += chunk
    return pid, master, seen


def begin_soak(master, seen):
    """Begins the script above, the last in the list; the simulated person answers. Each key waits for what it is about: a cold
    computer is slow, and a fast one may have taken the first reading before it draws."""
    if b"Soak" not in seen:
        wait_for(master, b"Soak")
    for keys, shows in ((b"3", None), (b"\x1b[F", b"as fast as they come"), (b"\r", b"leave it"), (b"b", b"auto-answer"), (b"a", b"reading")):
        os.write(master, keys)
        if shows:
            wait_for(master, shows)
        else:
            read_for(master, 0.3)
    read_for(master, 1.0)


def wait_for(master, text):
    """Reads until a text comes. The screens send only what changes: what is drawn already does not come again."""
    if text not in read_for(master, 60, text):
        raise SystemExit(f"The screens did not show '{text.decode()}'.")


def cpu_seconds(pid):
    """Processor time that a process has used, s."""
    fields = open(f"/proc/{pid}/stat").read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def resident_mib(pid):
    """Resident memory of a process, MiB."""
    return next(int(line.split()[1]) for line in open(f"/proc/{pid}/status") if line.startswith("VmRSS")) / 1024


@dataclass
class Soak:
    """What a soak came to."""

    seconds: float
    memory: list  # (s since it began, MiB resident)
    keys: list  # s from writing ? until the help stood there, sorted
    missed: int  # keys that showed nothing within two seconds
    facts: int  # recorded meanwhile
    cpu: float  # share of one processor

    def usual_memory(self, since, until):
        """Median of what was resident in a stretch of it, MiB."""
        return statistics.median(mib for at, mib in self.memory if since <= at <= until)

    def key_ms(self, share):
        return self.keys[min(len(self.keys) - 1, int(len(self.keys) * share))] * 1000

    def lines(self):
        part = self.seconds / 6
        held = ", ".join(f"{self.usual_memory(n * part, (n + 1) * part):.0f}" for n in range(6))
        return (
            f"soak              {self.seconds / 60:.1f} min, CPU {self.cpu * 100:.1f} % of a core",
            f"memory            {held} MiB (median) in each sixth of it, {max(mib for _, mib in self.memory):.0f} at most",
            f"key to help       median {statistics.median(self.keys) * 1000:.0f} ms, p95 {self.key_ms(0.95):.0f} ms, worst {self.keys[-1] * 1000:.0f} ms, of {len(self.keys)} keys; {self.missed} missed",
            f"recorded          {self.facts} facts, {self.facts / self.seconds:.0f} a second; each tells two to three events",
        )


def soak(master, seen, pid, folder, seconds):
    """Begins the script above, opens and closes the help while it goes on, and stops it."""
    begin_soak(master, seen)
    memory, keys, missed, cpu, began = [], [], 0, cpu_seconds(pid), time.monotonic()
    facts = recorded(folder)
    while (at := time.monotonic() - began) < seconds:
        memory.append((at, resident_mib(pid)))
        read_for(master, 0.4)
        sent = time.monotonic()
        os.write(master, b"?")
        if b"Help" in read_for(master, 2, b"Help"):
            keys.append(time.monotonic() - sent)
        else:
            missed += 1
        os.write(master, b"\x1b")
        read_for(master, 0.4)
    took = time.monotonic() - began
    came = Soak(took, memory, sorted(keys), missed, recorded(folder) - facts, (cpu_seconds(pid) - cpu) / took)
    os.write(master, b"\x03")
    read_for(master, 20, b"Stopped")
    return came


def recorded(folder):
    """Facts in the store."""
    connection = sqlite3.connect(f"file:{folder}/proberunner/runs.db?mode=ro", uri=True)
    table = next(name for (name,) in connection.execute("select name from sqlite_master where type = 'table' and name like '%entr%'"))
    return connection.execute(f"select count(*) from {table}").fetchone()[0]
