"""How long the sheet takes to open, on a real pseudo-terminal of 120 by 40.

    python3 first-screen.py dist/main.js FOLDER

Starts the program on the folder, notes the first output, the first frame that has rows of laterals, and the first whose totals are
those of a plan; prints all three in ms as JSON, and ends the program. Python's own pty module is used because Node has
none.
"""
import fcntl, json, os, pty, re, select, signal, struct, sys, termios, time

# The line under the rows says which lateral of how many the cursor is on.
ROWS = re.compile(rb"lateral 1 of|1 of [0-9,]{2,}")
# Among the totals once there is a plan.
PLANNED = re.compile(rb"crew-days")
started = time.perf_counter()
pid, fd = pty.fork()
if pid == 0:
    os.environ["TERM"] = "xterm-256color"
    os.execvp("node", ["node", sys.argv[1], sys.argv[2]])
fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
first, rows, planned, seen = None, None, None, b""
while time.perf_counter() - started < 300:
    if not select.select([fd], [], [], 1)[0]:
        continue
    try:
        data = os.read(fd, 1 << 16)
    except OSError:
        break
    first = first or time.perf_counter()
    seen += data
    if rows is None and ROWS.search(seen):
        rows = time.perf_counter()
    if rows is not None and PLANNED.search(seen):
        planned = time.perf_counter()
        break
os.kill(pid, signal.SIGKILL)
os.waitpid(pid, 0)
if planned is None:
    sys.exit("the sheet showed no plan; its last output was " + repr(seen[-400:]))
times = {"first": first, "rows": rows, "planned": planned}
print(json.dumps({what: (at - started) * 1000 for what, at in times.items()}))
