"""A long batch tells on the terminal how far it is, and leaves nothing of that
there. Lines are fed until it does, however long the program is patient; that
others stay silent shows in programs that have waited for longer."""
import os
import pty
import re
import select
import subprocess
import time

WORDS = ["rank", "--list", "skerry.json", "--top", "1"]
HAND = b"2B 4B\n"
UNREADABLE = b"2468X\n"
TOLD = re.compile(r"(\d+) hands, \d+ a second")
PATIENCE = 60  # seconds, for a program that never tells


class Fed:
    """A program whose input stays open. Its standard error is a terminal or a
    pipe, its standard output the same terminal or a pipe."""

    def __init__(self, program, error_shown, output_shown=False):
        master, slave = pty.openpty()
        self.shown = ""
        self.child = subprocess.Popen(
            [program.path, *WORDS], stdin=subprocess.PIPE, bufsize=0, cwd=program.lists,
            env=program.environment(), stdout=slave if output_shown else subprocess.PIPE,
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
    yield "a terminal is told how far a batch is, anew and anew", (
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
    yield "a pipe is told nothing", "" if output and error == b"" else error.decode()
    together.end()
    yield "nor a terminal that shows the answers", (
        "" if "2 hands answered" in together.shown and not told(together.shown)
        else together.shown)


def checks(program):
    piped = Fed(program, error_shown=False)
    together = Fed(program, error_shown=True, output_shown=True)
    for fed in (piped, together):
        fed.shown += fed.feed()  # its time runs from here or before
    yield from told_checks(program, (piped, together))
    yield from silent_checks(piped, together)
