"""Key to last byte, on a real pseudo-terminal.

    node tests/bench/screen-latency/build.mjs && python3 tests/bench/screen-latency/measure.py [ROWS]

Presses one key at a time in a sheet of ROWS laterals (a million unless given) and takes the time from writing the key to
the last byte that comes back before QUIET seconds of silence. Prints median, 95th percentile and the most, in ms, per
size of the window and kind of key, and the bytes of a frame. Python's own pty module is used because Node has none.
"""
import fcntl, os, pty, select, signal, struct, sys, termios, time

QUIET = 0.15
PRESSES = int(os.environ.get("PRESSES", "60"))
HERE = os.path.dirname(os.path.abspath(__file__))
KEYS = {
    "down": [b"\x1b[B"],
    "page down": [b"\x1b[6~"],
    "right, left": [b"\x1b[C", b"\x1b[D"],
    "ends": [b"\x1b[1;5F", b"\x1b[1;5H"],
    "typed letter": [b"x", b"\x7f"],
    "turn order": [b"r"],
}


def read_until_quiet(fd, quiet):
    """Bytes read, and when the first and the last of them came."""
    total, first, last, end_first = 0, None, None, None
    while True:
        ready, _, _ = select.select([fd], [], [], quiet)
        if not ready:
            return total, first, last, end_first
        try:
            data = os.read(fd, 1 << 16)
        except OSError:
            return total, first, last, end_first
        last = time.perf_counter()
        first = first or last
        # The end of the first frame: what follows it is work that no key waited for.
        if end_first is None and b"\x1b[?2026l" in data:
            end_first = last
        total += len(data)


def cpu_seconds(pid):
    """Processor time of the process and its threads so far: what a key costs whatever else the machine does."""
    fields = open(f"/proc/{pid}/stat").read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def measure(rows, columns, lines):
    pid, fd = pty.fork()
    if pid == 0:
        os.environ["TERM"] = "xterm-256color"
        os.execvp("node", ["node", os.path.join(HERE, "../../../dist/bench-sheet/big-sheet.mjs"), str(rows)])
    fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
    os.kill(pid, signal.SIGWINCH)
    deadline = time.time() + 240
    seen = b""
    while b"lateral 1 of" not in seen and time.time() < deadline:
        if select.select([fd], [], [], 1)[0]:
            seen += os.read(fd, 1 << 16)
    read_until_quiet(fd, 2)
    for name, keys in KEYS.items():
        times, sizes = [], []
        if name == "typed letter":
            os.write(fd, b"o")
            read_until_quiet(fd, QUIET)
        before = cpu_seconds(pid)
        for press in range(PRESSES if name != "turn order" else 10):
            start = time.perf_counter()
            os.write(fd, keys[press % len(keys)])
            total, _, last, end_first = read_until_quiet(fd, QUIET if name != "turn order" else 1.5)
            if last is None:
                continue
            # Of a sort, the key's own frame is timed; the new order follows in a second one.
            times.append(((end_first if name == "turn order" else last) - start) * 1000)
            sizes.append(total)
        if name == "typed letter":
            os.write(fd, b"\x1b")
            read_until_quiet(fd, QUIET)
        cost = (cpu_seconds(pid) - before) * 1000 / max(1, len(times))
        times.sort()
        at = lambda part: times[min(len(times) - 1, int(part * len(times)))]
        print(f"{columns}x{lines:<4} {name:<14} median {at(0.5):6.1f}  p95 {at(0.95):6.1f}  most {times[-1]:6.1f} ms  processor {cost:5.1f} ms"
              f"  {sum(sizes) // len(sizes):6} bytes  ({len(times)} presses)", flush=True)
    os.write(fd, b"q")
    read_until_quiet(fd, 0.5)
    try:
        os.kill(pid, signal.SIGTERM)
    except ProcessLookupError:
        pass
    os.waitpid(pid, 0)
    os.close(fd)


rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
sizes = ((80, 24), (160, 50), (240, 70))
for columns, lines in sizes[int(os.environ.get("FROM", "0")) :]:
    measure(rows, columns, lines)
