"""What shows while a program waits, and that it does not wait for ever.

A long batch shows on the terminal how far it is, and leaves nothing of that there.
Lines are fed until it does, however long the program is patient; that others stay
silent shows in programs that have waited for longer. A signal ends a program whose
output nobody reads."""
import fcntl
import os
import pty
import re
import select
import signal
import subprocess
import tempfile
import time

WORDS = ["rank", "--list", "skerry.json", "--top", "1"]
HAND = b"2B 4B\n"
UNREADABLE = b"2468X\n"
TOLD = re.compile(r"(\d+) hands, \d+ a second")
PATIENCE = 60  # seconds, for a program that waits for ever
STATUS_STOPPED = 130


class Fed:
    """A program whose input stays open. Its standard error is a terminal or a
    pipe, its standard output the same terminal or a pipe."""

    def __init__(self, program, error_shown, output_shown=False):
        master, slave = pty.openpty()
        self.shown = ""
        self.child = program.start(
            *WORDS, bufsize=0, stdout=slave if output_shown else subprocess.PIPE,
            stderr=slave if error_shown else subprocess.PIPE)
        os.close(slave)
        self.master = master
        self.ends = time.monotonic() + PATIENCE

    def read(self, descriptor, seconds):
        """What is there within some seconds, nothing when that is the end."""
        if not select.select([descriptor], [], [], seconds)[0]:
            return ""
        try:
            return os.read(descriptor, 65536).decode()
        except OSError:  # the terminal is closed at the other end
            return ""

    def feed(self):
        """Feeds a hand and awaits an answer."""
        self.child.stdin.write(HAND)
        output = self.master if self.child.stdout is None else self.child.stdout.fileno()
        answer = ""
        while "\n" not in answer and time.monotonic() < self.ends:
            answer += self.read(output, 1)
        return answer

    def feed_until(self, holds):
        """Feeds lines until something holds of what the terminal shows."""
        while not holds(self.shown) and time.monotonic() < self.ends:
            self.feed()
            self.shown += self.read(self.master, 0.05)

    def end(self):
        """What is written to pipes at the end; the terminal's text is kept."""
        self.child.stdin.close()
        self.child.stdin = None
        while more := self.read(self.master, PATIENCE):
            self.shown += more
        output, error = self.child.communicate(timeout=PATIENCE)
        os.close(self.master)
        return output or b"", error or b""


def rows(shown):
    """The rows of a terminal that was shown a text, with what was written over
    gone."""
    screen = [[]]
    column = 0
    for sign in shown:
        if sign == "\n":
            screen.append([])
        elif sign == "\r":
            column = 0
        else:
            row = screen[-1]
            row[column:column + 1] = sign
            column += 1
    return ["".join(row).rstrip() for row in screen]


def told(shown):
    return TOLD.findall(shown)


def told_checks(program, silent):
    watched = Fed(program, error_shown=True)
    watched.feed_until(lambda shown: len(set(told(shown))) > 2)
    counts = [int(count) for count in told(watched.shown)]
    yield "a terminal shows how far a batch is, again and again", (
        "" if len(set(counts)) > 2 and counts == sorted(counts) else watched.shown)
    yield "that takes one row", "" if len(rows(watched.shown)) == 1 else watched.shown
    for fed in silent:
        fed.shown += fed.feed()
    before = len(watched.shown)
    watched.child.stdin.write(UNREADABLE)
    watched.feed_until(lambda shown: told(shown[before:]))
    screen = rows(watched.shown)
    yield "it makes room for a complaint", (
        "" if "2468X" in "".join(screen) and not told("\n".join(screen[:-1]))
        and told(screen[-1]) else watched.shown)
    watched.end()
    screen = rows(watched.shown)
    yield "nothing of it is left at the end", (
        "" if screen[-1] == "" and not told("\n".join(screen)) else watched.shown)


def silent_checks(piped, together):
    output, error = piped.end()
    yield "a pipe is shown nothing", "" if output and error == b"" else error.decode()
    together.end()
    yield "nor a terminal that shows the answers", (
        "" if "2 hands answered" in together.shown and not told(together.shown)
        else together.shown)


# ------------------------------------------------------- nobody reads

def narrow_pipe():
    """A pipe that holds no more than a page."""
    reader, writer = os.pipe()
    fcntl.fcntl(writer, fcntl.F_SETPIPE_SZ, 4096)
    return reader, writer


def start_stuck(program, words, line, errors_too):
    """A program that has written what a pipe holds, or soon has; and the pipe."""
    reader, writer = narrow_pipe()
    with tempfile.TemporaryFile() as stdin:
        stdin.write(line * 20000)
        stdin.seek(0)
        child = program.start(*words, stdin=stdin, stdout=writer,
                              stderr=writer if errors_too else subprocess.PIPE)
    os.close(writer)
    select.select([reader], [], [], PATIENCE)
    return child, reader


def rest_of(reader):
    text = b""
    while more := os.read(reader, 65536):
        text += more
    os.close(reader)
    return text


def stuck_checks(program):
    """The first signal ends it, and what is in the pipe is how the output begins."""
    hand = b"2468B 246C 33D EEW R Wh\n"
    drill = ["drill", "--no-history", "--seed", "1", "--rounds", "100"]
    cases = ((["rank", "--json", "--jobs", "1"], hand, False),
             (["rank", "--json", "--jobs", "3"], hand, False),
             (["rank", "--jobs", "2"], b"2468B 9\n", True),
             (["pass", "--list", "skerry.json", "--json", "--jobs", "2"], hand, False),
             (["deal", "--seed", "1", "--hands", "1000000"], b"", False),
             (drill, b"skip\n", False))
    for number in (signal.SIGINT, signal.SIGTERM):
        stuck = [(case, *start_stuck(program, *case)) for case in cases]
        for _, child, _ in stuck:
            child.send_signal(number)
        for (words, _, errors_too), child, reader in stuck:
            yield f"{' '.join(words)}: nobody reads, {number.name}", (
                stuck_problem(child, reader, errors_too))


def stuck_problem(child, reader, errors_too):
    try:
        status = child.wait(PATIENCE)
    except subprocess.TimeoutExpired:
        child.kill()
        status = "it waits for ever"
    output = rest_of(reader)
    told = b"" if errors_too else child.stderr.read()
    # The signal may come before the pipe is full.
    whole = errors_too or b"nobody reads" in told or output.endswith(b"\n")
    return "" if status == STATUS_STOPPED and output and whole else f"{status} {output} {told}"


def read_slowly(reader):
    """Everything in small bites, and the longest wait between them."""
    text, longest, last = b"", 0, time.monotonic()
    while more := os.read(reader, 300):
        text += more
        time.sleep(0.02)
        longest, last = max(longest, time.monotonic() - last), time.monotonic()
    os.close(reader)
    return text, longest


def slow_reader_checks(program):
    """A reader that reads gets whole lines, though it takes longer than a second.
    Where this machine was busy for too long, it is tried again."""
    words = ["rank", "--json", "--top", "1", "--jobs", "2"]
    for _ in range(20):
        child, reader = start_stuck(program, words, b"2468B 246C 33D EEW R Wh\n", False)
        child.send_signal(signal.SIGINT)
        began = time.monotonic()
        output, longest = read_slowly(reader)
        taken = time.monotonic() - began
        status, errors = child.wait(PATIENCE), child.stderr.read()
        if longest < 0.5:
            break
    lines = output.count(b"\n")
    yield "a slow reader gets whole lines", (
        "" if status == STATUS_STOPPED and output.endswith(b"}\n") and taken > 1
        and errors == f"nearhand rank: stopped after {lines} lines\n".encode()
        else f"status {status} after {taken} seconds, {output[-20:]}, {errors}")


def ignored_checks(program):
    """The tests send signals that get there, though they run where those are ignored."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        child = program.start(*WORDS)
    finally:
        signal.signal(signal.SIGINT, before)
    child.stdin.write(HAND)
    child.stdin.flush()
    child.stdout.readline()
    child.send_signal(signal.SIGINT)
    yield "signals of the tests get there", (
        "" if child.wait(PATIENCE) == STATUS_STOPPED else "it was not stopped")
    child.stdin.close()


def checks(program):
    piped = Fed(program, error_shown=False)
    together = Fed(program, error_shown=True, output_shown=True)
    for fed in (piped, together):
        fed.shown += fed.feed()  # its time runs from here or before
    yield from told_checks(program, (piped, together))
    yield from silent_checks(piped, together)
    yield from stuck_checks(program)
    yield from slow_reader_checks(program)
    yield from ignored_checks(program)
