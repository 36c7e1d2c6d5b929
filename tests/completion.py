"""Completion on the command line: --help tells exactly the options that a task
takes, and bash, zsh and fish offer them, as well as tasks, lists, patterns,
files and words of a choice. The shells are driven by keys on a terminal, where
they have no way to be asked.

    completion.py PROGRAM ROOT
"""
import os
import pathlib
import pty
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import checking

PATIENCE = 60  # seconds, for a shell that hangs

# Keys, and the command line that they must come to. `invented` is a task that
# the wrapper below adds: what any further task has without a change.
CASES = {
    "a task": ("nearhand aud\t", "nearhand audit "),
    "an added task": ("nearhand inv\t", "nearhand invented "),
    "an option": ("nearhand rank --js\t", "nearhand rank --json "),
    "an option of the task that need not be named": ("nearhand --uni\t", "nearhand --unicode "),
    "an option behind a hand": ("nearhand 2B --uni\t", "nearhand 2B --unicode "),
    "the version": ("nearhand --vers\t", "nearhand --version "),
    "a list": ("nearhand rank --list jok\t", "nearhand rank --list jokers "),
    "a list behind =": ("nearhand rank --list=jok\t", "nearhand rank --list=jokers "),
    "a list of one's own": ("nearhand rank --list min\t", "nearhand rank --list mine "),
    "a list in a file": ("nearhand rank --list harb\t", "nearhand rank --list harbour.json "),
    "a list as a word": ("nearhand audit trad\t", "nearhand audit traditional "),
    "a file of hands": ("nearhand rank --file even\t", "nearhand rank --file evening.txt "),
    "a format": ("nearhand rank --format ts\t", "nearhand rank --format tsv "),
    "a level": ("nearhand drill --level adv\t", "nearhand drill --level advanced "),
    "an option of an added task": ("nearhand invented --ai\t", "nearhand invented --aim "),
    "a pattern of the list": ("nearhand invented --list jokers --aim Kit\t",
                              "nearhand invented --list jokers --aim Kittiwake "),
    "a pattern with a space": ("nearhand invented --list jokers --aim Black\t",
                               "nearhand invented --list jokers --aim Black-Backed\\ Gull "),
    "a pattern of another list": ("nearhand invented --list mine --aim Buo\t",
                                  "nearhand invented --list mine --aim Buoy "),
    "nothing for a hand": ("nearhand rank 2B har\t", "nearhand rank 2B har"),
}

WRAPPER = """#!/bin/sh
case "$1 $2" in
"--help ") "{program}" --help | sed 's/^Tasks:$/&\\n  invented  a task that only tests have/' ;;
"invented --help") printf '%s\\n' 'nearhand invented [OPTION ...] [HAND]' '' \\
    '  --list FILE|NAME    the list' '  --aim PATTERN       only that pattern [of the list]' ;;
*) exec "{program}" "$@" ;;
esac
"""

LIST = """{"format": 1, "title": "Mine", "hand": 3,
 "patterns": [{"name": "Buoy", "groups": [{"pung": "red"}]}]}"""

# Each shell shows its command line, in a file, on Ctrl-T.
START = {
    "bash": (["bash", "--norc", "--noprofile", "-i"],
             "source {completion}/nearhand.bash\n"
             """bind -x '"\\C-t": printf %s "$READLINE_LINE" >{shown}.new; mv {shown}.new {shown}'\n"""),
    "zsh": (["zsh", "-f", "-i"],
            "fpath=({completion} $fpath); autoload -U compinit; compinit -u -D\n"
            "show() {{ print -rn -- $BUFFER >{shown}.new; mv {shown}.new {shown}; }}\n"
            "zle -N show; bindkey '^t' show\n"),
}


class Terminal:
    """A shell on a terminal of its own."""

    def __init__(self, words, environment, folder, shown):
        self.shown = shown
        self.process, self.keys = pty.fork()
        if self.process == 0:
            os.chdir(folder)
            os.execvpe(words[0], words, environment)
        self.screen = b""

    def take(self, seconds):
        if select.select([self.keys], [], [], seconds)[0]:
            try:
                self.screen += os.read(self.keys, 65536)
            except OSError:  # the shell has gone
                time.sleep(seconds)

    def press(self, keys):
        os.write(self.keys, keys.encode())

    def line(self):
        """The command line, once the shell has come to Ctrl-T."""
        self.press("\x14")
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and not self.shown.exists():
            self.take(0.02)
        if not self.shown.exists():
            raise TimeoutError(f"no answer; the screen ends in {self.screen[-300:]}")
        text = self.shown.read_text()
        self.shown.unlink()
        return text

    def close(self):
        os.kill(self.process, signal.SIGKILL)
        os.close(self.keys)
        os.waitpid(self.process, 0)


class Bench:
    """A folder with lists and files, and the wrapped program in the PATH."""

    def __init__(self, folder, program, root):
        self.folder = pathlib.Path(folder)
        self.completion = root / "cli/completion"
        self.work = self.folder / "work"
        self.work.mkdir()
        for name in ("harbour.json", "evening.txt"):
            (self.work / name).write_text("")
        own = self.folder / "data/nearhand/lists/mine.json"
        own.parent.mkdir(parents=True)
        own.write_text(LIST)
        wrapper = self.folder / "bin/nearhand"
        wrapper.parent.mkdir()
        wrapper.write_text(WRAPPER.format(program=program))
        wrapper.chmod(0o755)
        # The search for leaks waits for signals, which zsh holds back meanwhile.
        sanitizers = os.environ.get("ASAN_OPTIONS", "") + ":detect_leaks=0"
        self.environment = {"ASAN_OPTIONS": sanitizers, "PATH": f"{wrapper.parent}:{os.environ['PATH']}", "TERM": "dumb",
                            "HOME": folder, "XDG_DATA_HOME": str(self.folder / "data"),
                            "LC_ALL": "C.UTF-8"}

    def lines(self, shell):
        """What the shell makes of the keys of each case."""
        shown = self.folder / "shown"
        words, commands = START[shell]
        terminal = Terminal(words, self.environment, self.work, shown)
        terminal.press(commands.format(completion=self.completion, shown=shown))
        try:
            for name, (keys, _) in CASES.items():
                terminal.press("\x15" + keys)  # Ctrl-U empties the line
                yield name, terminal.line()
        finally:
            terminal.close()

    def fish(self, line):
        """Fish can be asked: the words that it offers for a command line."""
        script = f"source {self.completion}/nearhand.fish; complete --do-complete '{line}'"
        done = subprocess.run(["fish", "--no-config", "-c", script], env=self.environment,
                              cwd=self.work, capture_output=True, text=True, timeout=PATIENCE,
                              check=False)
        return [row.split("\t")[0] for row in done.stdout.splitlines()] + done.stderr.splitlines()


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted!r}, given {given!r}"


# -------------------------------------------------------------------- options

def output_of(*words):
    return subprocess.run(words, capture_output=True, text=True, timeout=PATIENCE, check=False)


def tasks_of(program):
    block = re.search(r"^Tasks:\n(.*?)\n\n", output_of(program, "--help").stdout, re.M | re.S)
    return [line.split()[0] for line in block.group(1).splitlines()]


def options_told(program, task):
    text = output_of(program, task, "--help").stdout
    return set(re.findall(r"^  (--[a-z-]+)(?= |$)", text, re.M)) | {"--help"}


def options_taken(program, task):
    """An option without a name could be any, and glibc's getopt_long says which."""
    return set(re.findall(r"'(--[a-z-]+)'", output_of(program, task, "--=").stderr))


def option_checks(program):
    tasks = tasks_of(program)
    yield "the tasks are told", "" if len(tasks) >= 3 and "rank" in tasks else str(tasks)
    for task in tasks:
        yield f"the options of {task}", compare(sorted(options_told(program, task)),
                                                sorted(options_taken(program, task)))
    formats = [output_of(program, "rank", "--format", word, "2B").returncode
               for word in ("text", "json", "tsv")]
    yield "the formats are taken", compare(formats, [0, 0, 0])


# --------------------------------------------------------------------- shells

def shell_checks(bench):
    for shell in ("bash", "zsh"):
        if shutil.which(shell) is None:
            yield shell, "it is not installed"
            continue
        try:
            given = dict(bench.lines(shell))
        except TimeoutError as error:
            yield shell, str(error)
            continue
        for name, (_, wanted) in CASES.items():
            # zsh writes a = behind an option, which a space replaces.
            line = re.sub("=$", " ", given[name]) if shell == "zsh" else given[name]
            yield f"{shell}: {name}", compare(line, wanted)


def fish_checks(bench):
    if shutil.which("fish") is None:
        yield "fish", "it is not installed"
        return
    for name, (keys, wanted) in CASES.items():
        line = keys.rstrip("\t")
        word = re.search(r"(\S*) ?$", wanted.replace("\\ ", "\0")).group(1).replace("\0", " ")
        expected = [] if name == "nothing for a hand" else [word]
        yield f"fish: {name}", compare(bench.fish(line), expected)


def main():
    program, root = (pathlib.Path(word).resolve() for word in sys.argv[1:])
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(folder, program, root)
        return checking.run(option_checks(program), shell_checks(bench), fish_checks(bench))


if __name__ == "__main__":
    sys.exit(main())
