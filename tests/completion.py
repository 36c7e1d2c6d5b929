"""Completion on the command line: the help shows exactly the options that a task
takes, and bash, zsh and fish offer them, as well as tasks, lists, patterns,
sections, winds, files and choices. Bash and zsh, which cannot be asked, are driven
by keys on a terminal.

    completion.py PROGRAM ROOT
"""
import json
import os
import pathlib
import pty
import re
import select
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import checking

PATIENCE = 60  # seconds, for a shell that hangs

# Keys, and the command line that they must come to, however the shell quotes it.
CASES = {
    "a task": ("nearhand aud\t", "nearhand audit "),
    "a task behind help": ("nearhand help prog\t", "nearhand help progress "),
    "an option": ("nearhand rank --js\t", "nearhand rank --json "),
    "an option of the task that need not be named": ("nearhand --uni\t", "nearhand --unicode "),
    "an option behind a hand": ("nearhand 2B --uni\t", "nearhand 2B --unicode "),
    "the version": ("nearhand --vers\t", "nearhand --version "),
    "a list": ("nearhand rank --list jok\t", "nearhand rank --list jokers "),
    "a list behind =": ("nearhand rank --list=jok\t", "nearhand rank --list=jokers "),
    "a list before the task": ("nearhand --list jok\t", "nearhand --list jokers "),
    "a task behind an option": ("nearhand --list jokers pa\t", "nearhand --list jokers pass "),
    "an option behind both": ("nearhand --list jokers pass --cour\t",
                              "nearhand --list jokers pass --courtesy "),
    "a list of one's own": ("nearhand rank --list min\t", "nearhand rank --list mine "),
    "a list in a file": ("nearhand rank --list harb\t", "nearhand rank --list harbour.json "),
    "a list as a word": ("nearhand audit trad\t", "nearhand audit traditional "),
    "a file of hands": ("nearhand rank --file even\t", "nearhand rank --file evening.txt "),
    "a picture": ("nearhand progress --svg=even\t", "nearhand progress --svg=evening.txt "),
    "a format": ("nearhand rank --format ts\t", "nearhand rank --format tsv "),
    "a level": ("nearhand drill --level adv\t", "nearhand drill --level advanced "),
    "a wind": ("nearhand pass --prevailing n\t", "nearhand pass --prevailing N "),
    "a seat": ("nearhand deal --seat S\t", "nearhand deal --seat S "),
    "a pattern of the list that is not named": ("nearhand pass --aim boat\t",
                                                "nearhand pass --aim Boathouse "),
    "a pattern of the list": ("nearhand pass --list jokers --aim Kit\t",
                              "nearhand pass --list jokers --aim Kittiwake "),
    "a pattern behind =": ("nearhand pass --list=jokers --aim=Kit\t",
                           "nearhand pass --list=jokers --aim=Kittiwake "),
    "a pattern of a list before the task": ("nearhand --list jokers pass --aim Kit\t",
                                            "nearhand --list jokers pass --aim Kittiwake "),
    "a pattern of a list behind the cursor": (
        "nearhand pass --aim Kit --list jokers" + 14 * "\x02" + "\t",
        "nearhand pass --aim Kittiwake --list jokers"),
    "a pattern of a list as a word": ("nearhand lists jokers --pattern Kit\t",
                                      "nearhand lists jokers --pattern Kittiwake "),
    "a pattern with a space": ("nearhand pass --list jokers --aim Black\t",
                               "nearhand pass --list jokers --aim 'Black-Backed Gull' "),
    "a pattern typed up to its space": ("nearhand pass --list jokers --aim black-backed\\ \t",
                                        "nearhand pass --list jokers --aim 'Black-Backed Gull' "),
    "a pattern in quotes": ("nearhand pass --list jokers --aim \"Black\t",
                            "nearhand pass --list jokers --aim 'Black-Backed Gull' "),
    "a pattern with an apostrophe": ("nearhand pass --list mine --aim Ke\t",
                                     "nearhand pass --list mine --aim \"Keeper's Lamp\" "),
    "a pattern that a shell could run": ("nearhand pass --list mine --aim Eb\t",
                                         "nearhand pass --list mine --aim 'Ebb `x` & $HOME; (a*)' "),
    "a pattern with quotes": ("nearhand pass --list mine --aim The\t",
                              "nearhand pass --list mine --aim 'The \"Old\" Buoy' "),
    "a pattern that is not in ASCII": ("nearhand pass --list mine --aim Møl\t",
                                       "nearhand pass --list mine --aim 'Møller høj' "),
    "a section": ("nearhand rank --section bea\t", "nearhand rank --section Beacons "),
    "a section with spaces": ("nearhand rank --list traditional --section sets\t",
                              "nearhand rank --list traditional --section 'Sets and a pair' "),
    "nothing for a hand": ("nearhand rank 2B har\t", "nearhand rank 2B har"),
}

NAMES = ["Buoy", "Keeper's Lamp", "Ebb `x` & $HOME; (a*)", "The \"Old\" Buoy", "Møller høj"]

LIST = json.dumps({"format": 1, "title": "Mine", "hand": 3, "patterns": [
    {"name": name, "groups": [{"pung": "red"}]} for name in NAMES]})

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
    """A folder with lists and files, and the program in the PATH."""

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
        folder_of_program = self.folder / "bin"
        folder_of_program.mkdir()
        (folder_of_program / "nearhand").symlink_to(program)
        # The search for leaks waits for signals, which zsh holds back meanwhile.
        sanitizers = os.environ.get("ASAN_OPTIONS", "") + ":detect_leaks=0"
        self.environment = {"ASAN_OPTIONS": sanitizers, "PATH": f"{folder_of_program}:{os.environ['PATH']}",
                            "TERM": "dumb", "HOME": folder, "XDG_DATA_HOME": str(self.folder / "data"),
                            "LC_ALL": "C.UTF-8"}

    def lines(self, shell):
        """What the shell makes of the keys of each case."""
        shown = self.folder / "shown"
        words, commands = START[shell]
        terminal = Terminal(words, self.environment, self.work, shown)
        terminal.press(commands.format(completion=self.completion, shown=shown))
        try:
            for name, (keys, _) in CASES.items():
                terminal.press("\x05\x15" + keys)  # Ctrl-E, then Ctrl-U empties the line
                yield name, terminal.line()
        finally:
            terminal.close()

    def fish(self, line):
        """Fish can be asked: the words that it offers for a command line."""
        quoted = line.replace("\\", "\\\\").replace("'", "\\'")
        script = f"source {self.completion}/nearhand.fish; complete --do-complete '{quoted}'"
        done = subprocess.run(["fish", "--no-config", "-c", script], env=self.environment,
                              cwd=self.work, capture_output=True, text=True, timeout=PATIENCE,
                              check=False)
        return [row.split("\t")[0] for row in done.stdout.splitlines()] + done.stderr.splitlines()


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted!r}, given {given!r}"


# -------------------------------------------------------------------- options

# A word that each kind of value takes.
VALUES = {"FILE|NAME": "club", "FILE": "/dev/null", "PATTERN": "Boathouse", "SECTION": "Beacons",
          "WIND": "E", "TILES": "2B", "FORMAT": "json", "LEVEL": "advanced", "TIME": "90s",
          "CLOCK": "fixed:1", "SETS": "EEE", "ORDER": "worth", "WHAT": "section",
          "HOW": "spare", "WHEN": "never",
          **dict.fromkeys("NKRS", "2")}


def output_of(*words):
    return subprocess.run(words, capture_output=True, text=True, timeout=PATIENCE, check=False)


def tasks_of(program):
    block = re.search(r"^Tasks:\n(.*?)\n\n", output_of(program, "--help").stdout, re.M | re.S)
    return [line.split()[0] for line in block.group(1).splitlines()]


def option_rows(text):
    """Options in a help, each with the word for its value."""
    return dict(re.findall(r"^  --([a-z-]+)(?: (\S+))?(?= |$)", text, re.M))


def options_in_short(text):
    """Options in the help that fits a screen, which names some in one line."""
    more = re.search(r"^More:(.*?)\(nearhand help", text, re.M | re.S)
    return set(option_rows(text)) | set(re.findall(r"--([a-z-]+)", more.group(1) if more else ""))


def offered(program, *words):
    """What the program offers for the last word; nothing it says may go to stderr."""
    done = output_of(program, "--offer", str(len(words) - 1), *words)
    return [line.split("\t")[0] for line in done.stdout.splitlines()] + done.stderr.splitlines()


def option_checks(program):
    tasks = tasks_of(program)
    yield "the tasks are shown", "" if len(tasks) >= 3 and "rank" in tasks else str(tasks)
    yield "the tasks are offered", compare(offered(program, ""), tasks)
    words = {}
    for task in tasks:
        short, whole = (output_of(program, "help", task, *more).stdout for more in ([], ["all"]))
        rows = option_rows(whole)
        yield f"the options of {task}", "" if len(rows) >= 3 else str(rows)
        yield f"the short help of {task}", compare(sorted(options_in_short(short)), sorted(rows))
        yield f"the options of {task} are offered", compare(
            sorted(offered(program, task, "--")), sorted(f"--{name}" for name in [*rows, "help"]))
        for name, word in rows.items():
            words.setdefault(name, set()).add(word)
            value = [VALUES[word]] if word else []
            done = output_of(program, task, f"--{name}", *value, "--help")
            yield f"{task} takes --{name} {word}", compare((done.returncode, done.stdout), (0, short))
            before = output_of(program, f"--{name}", *value, task, "--help")
            yield f"--{name} {word} goes before {task}", compare(before.stdout, short)
    yield "an option has one word for its value in all tasks", ", ".join(
        name for name, several in words.items() if len(several - {""}) > 1)


def value_checks(program, root):
    for path in sorted((root / "patterns").glob("*.json")):
        if path.name.endswith(".schema.json"):
            continue
        patterns = json.loads(path.read_text())["patterns"]
        yield f"the patterns of {path.name}", compare(
            offered(program, "pass", "--list", str(path), "--aim", ""),
            [pattern["name"] for pattern in patterns])
        yield f"the sections of {path.name}", compare(
            offered(program, "rank", "--list", path.stem, "--section", ""),
            list(dict.fromkeys(pattern["section"] for pattern in patterns if "section" in pattern)))
    yield "the winds", compare(offered(program, "rank", "--seat", ""), ["E", "S", "W", "N"])
    yield "the levels", compare(offered(program, "drill", "--level", ""),
                                ["beginner", "intermediate", "advanced"])
    yield "the formats", compare(offered(program, "rank", "--format", ""), ["text", "json", "tsv"])
    yield "nothing for tiles", compare(offered(program, "rank", "--seen", ""), [])


# --------------------------------------------------------------------- shells

def parted(line):
    """A command line as words, and whether the last one is ended."""
    try:
        return shlex.split(line), line.endswith(" ")
    except ValueError as error:
        return [f"{error}: {line}"], False


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
            yield f"{shell}: {name}", compare(parted(given[name]), parted(wanted))


def fish_checks(bench):
    if shutil.which("fish") is None:
        yield "fish", "it is not installed"
        return
    for name, (keys, wanted) in CASES.items():
        if "\x02" in keys:  # nothing is behind what fish is asked for
            continue
        word = shlex.split(wanted)[-1]
        expected = [] if name == "nothing for a hand" else [word]
        yield f"fish: {name}", compare(bench.fish(keys.rstrip("\t")), expected)


def main():
    program, root = (pathlib.Path(word).resolve() for word in sys.argv[1:])
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(folder, program, root)
        return checking.run(option_checks(program), value_checks(program, root),
                            shell_checks(bench), fish_checks(bench))


if __name__ == "__main__":
    sys.exit(main())
