"""Key to last byte, on a real pseudo-terminal; and the longest time no key is read while work runs.

    python3 tests/bench/screen-latency/measure.py [ROWS]

Builds a sheet of ROWS laterals (a million unless given) and presses one key at a time in it, at three sizes of the window. Prints
a table, in ms: median, 95th and 99th percentile and the most of the time from writing the key to the last byte that comes back before
QUIET seconds of silence; the processor time of a key, which is the same on a busy machine; the bytes of a frame. Of an edit
the time from Enter to the frame that says it is kept, and how much of that was fsync, which is the disk's. Of long work how long
it took and the most processor time between two looks at the keyboard. PRESSES and SIZES (80x24,160x50) change what is done.
Python's own pty module is used because Node has none.
"""
import fcntl, os, pty, select, signal, struct, subprocess, sys, tempfile, termios, time

QUIET = 0.08
PRESSES = int(os.environ.get("PRESSES", "60"))
HERE = os.path.dirname(os.path.abspath(__file__))
SHEET = os.path.join(HERE, "../../../dist/bench-sheet/big-sheet.js")
LIMITS = {"80x24": 20, "160x50": 33}
DOWN, UP, RIGHT, LEFT, ENTER, ESCAPE = b"\x1b[B", b"\x1b[A", b"\x1b[C", b"\x1b[D", b"\r", b"\x1b"
KEYS = {
    "down": [DOWN],
    "page down": [b"\x1b[6~"],
    "right, left": [RIGHT, LEFT],
    "ends": [b"\x1b[1;5F", b"\x1b[1;5H"],
    "why pane": [b"w"],
    "typed letter": [b"x", b"\x7f"],
}
# What is pressed first, the work, and what is pressed after.
LONG_WORK = {
    "sort by id": ([], b"s", []),
    "sort by cost": ([RIGHT] * 4, b"s", []),
    "other way round": ([], b"r", []),
    "group by cost": ([], b"g", [b"g"]),
    "only risk > 10": ([b"o"] + [bytes([c]) for c in b"risk > 10"], ENTER, [b"a"]),
    "only this value": ([], b"v", [b"a"]),
    "go to an id": ([b"i"] + [bytes([c]) for c in b"L-0999999"], ENTER, []),
    "find, not there": ([b"f"], b"~", [ESCAPE]),
    "find, no such number": ([b"f"] + [bytes([c]) for c in b"9,9,"], b"9", [ESCAPE]),
    "group by district": ([RIGHT], b"g", [b"g", LEFT]),
    "map": ([], b"k", [b"k"]),
    "likelihood": ([], b"x", [b"x"]),
    "an edit settles": ([RIGHT] * 2 + [b"8", ENTER], ENTER, []),
}


class Sheet:
    def __init__(self, rows, columns, lines):
        self.log = tempfile.mktemp(prefix="wyeplan-latency-")
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.environ["TERM"] = "xterm-256color"
            os.execvp("node", ["node", SHEET, str(rows), self.log])
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        seen, deadline = b"", time.time() + 600
        while b"1 of" not in seen and time.time() < deadline:
            if select.select([self.fd], [], [], 1)[0]:
                seen += os.read(self.fd, 1 << 16)
        os.kill(self.pid, signal.SIGWINCH)
        self.read(2, 2)

    def read(self, quiet=QUIET, first_within=3.0):
        """Bytes until it is quiet, and when the last of them came."""
        seen, last = b"", None
        while select.select([self.fd], [], [], first_within if last is None else quiet)[0]:
            try:
                data = os.read(self.fd, 1 << 16)
            except OSError:
                break
            last = time.perf_counter()
            seen += data
        return seen, last

    def press(self, key, quiet=QUIET, first_within=3.0):
        """ms to the last byte (None where nothing came), and the bytes."""
        start = time.perf_counter()
        os.write(self.fd, key)
        seen, last = self.read(quiet, first_within)
        return (None if last is None else (last - start) * 1000), seen

    def cpu(self):
        """Processor ms of the process and its threads so far."""
        fields = open(f"/proc/{self.pid}/stat").read().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")

    def logged(self, word):
        if not os.path.exists(self.log):
            return []
        return [float(line.split()[1]) for line in open(self.log) if line.startswith(word)]

    def watch(self):
        os.kill(self.pid, signal.SIGUSR2)
        time.sleep(0.05)

    def watched(self):
        """The longest block since {watch}."""
        known = len(self.logged("block"))
        os.kill(self.pid, signal.SIGUSR2)
        for _ in range(200):
            time.sleep(0.05)
            if len(self.logged("block")) > known:
                return self.logged("block")[-1]
        return float("nan")

    def close(self):
        os.kill(self.pid, signal.SIGTERM)
        self.read(0.3, 0.5)
        os.waitpid(self.pid, 0)
        os.close(self.fd)
        if os.path.exists(self.log):
            os.unlink(self.log)


def at(times, part):
    return sorted(times)[min(len(times) - 1, int(part * len(times)))]


def row(size, name, times, cpu, bytes_each):
    limit = LIMITS.get(size)
    verdict = "" if limit is None or name != "every key" else f"  {'met' if at(times, 0.95) < limit else 'MISSED'}: p95 under {limit}"
    print(f"{size:<8}{name:<20}{at(times, 0.5):8.1f}{at(times, 0.95):8.1f}{at(times, 0.99):8.1f}{max(times):8.1f}{cpu:9.2f}{bytes_each:8}"
          f"{len(times):7}{os.getloadavg()[0]:7.1f}{verdict}", flush=True)


def measure_keys(sheet, size):
    everything, all_cpu, all_bytes = [], 0, 0
    for name, keys in KEYS.items():
        if name == "typed letter":
            sheet.press(b"o")
        times, total, before = [], 0, sheet.cpu()
        for press in range(PRESSES):
            took, seen = sheet.press(keys[press % len(keys)])
            if took is not None:
                times.append(took)
                total += len(seen)
        cost = sheet.cpu() - before
        if name == "typed letter":
            sheet.press(ESCAPE)
        if not times:
            print(f"{size:<8}{name:<20} nothing came back", flush=True)
            continue
        row(size, name, times, cost / len(times), total // len(times))
        everything, all_cpu, all_bytes = everything + times, all_cpu + cost, all_bytes + total
    row(size, "every key", everything, all_cpu / len(everything), all_bytes // len(everything))


def measure_edits(sheet, size):
    """A diameter decided, row after row; the first asks for a reason, the next offer it again."""
    sheet.press(b"\x1b[1;5H")
    sheet.press(b"\x1b[H")
    for _ in range(6):
        sheet.press(RIGHT)
    times, syncs, before = [], [], sheet.cpu()
    for edit in range(max(6, PRESSES // 3)):
        sheet.press(b"6")
        sheet.press(ENTER)
        if edit == 0:
            sheet.press(b"b")
        known = len(sheet.logged("sync"))
        took, seen = sheet.press(ENTER, 0.3)
        if took is None or b"decision" not in seen:
            print(f"{size:<8}an edit was not kept: {seen[-200:]!r}")
            return
        times.append(took)
        syncs.append(sum(sheet.logged("sync")[known:]))
        sheet.press(DOWN)
    row(size, "edit, kept", times, (sheet.cpu() - before) / len(times), 0)
    row(size, "  of which fsync", syncs, 0, 0)
    row(size, "  without fsync", [a - b for a, b in zip(times, syncs)], 0, 0)


def measure_long_work(sheet, size):
    print(f"\n{'Long work, ' + size:<28}{'seconds':>9}{'longest block, processor ms':>30}{'load':>7}")
    sheet.press(b"\x1b[1;5H")
    sheet.press(b"\x1b[H")
    for name, (before, key, after) in LONG_WORK.items():
        for each in before:
            sheet.press(each)
        settles = name == "an edit settles"
        sheet.watch()
        took, _ = sheet.press(key, 20 if settles else 5, 10)
        block = sheet.watched()
        print(f"  {name:<26}{(took or 0) / 1000:9.2f}{block:30.1f}{os.getloadavg()[0]:7.1f}", flush=True)
        for each in after:
            sheet.press(each, 2)


subprocess.run(["node", os.path.join(HERE, "build.mjs")], check=True)
rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
print(f"{rows:,} laterals, load average {os.getloadavg()[0]:.1f} at the start; ms from key to last byte\n")
print(f"{'size':<8}{'key':<20}{'p50':>8}{'p95':>8}{'p99':>8}{'most':>8}{'CPU/key':>9}{'bytes':>8}{'times':>7}{'load':>7}")
sizes = os.environ.get("SIZES", "80x24,160x50,240x70").split(",")
for size in sizes:
    columns, lines = map(int, size.split("x"))
    sheet = Sheet(rows, columns, lines)
    measure_keys(sheet, size)
    measure_edits(sheet, size)
    if size == sizes[min(1, len(sizes) - 1)]:
        measure_long_work(sheet, size)
        print()
    sheet.close()
