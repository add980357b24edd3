"""The bench screens on a pseudo-terminal of 120 x 36, for the checks beside this file: opened, and a long run begun that asks nothing."""
import fcntl, os, pty, select, struct, tempfile, termios, time

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
touches = 5
[[step]]
do = "grid"
columns = 50
rows = 50
touches = 5
[[step]]
do = "grid"
columns = 50
rows = 50
touches = 5
"""

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


def begin_soak(master):
    """Begins the script above, the last in the list; the simulated person answers. Each key waits for what it is about: a cold computer is slow."""
    wait_for(master, b"Soak")
    for keys, shows in ((b"3", None), (b"\x1b[F", b"as fast as they come"), (b"\r", b"leave it"), (b"b", b"auto-answer"), (b"a", b"No reading yet")):
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
