"""Nothing is lost in silence: output that cannot be written in full (a full disk,
a pipe without a reader, a descriptor that is closed), lists and files that cannot
be read, or no longer."""
import os
import pathlib
import signal
import subprocess
import tempfile

STATUS_USAGE, STATUS_OUTPUT = 2, 3
HAND = b"2468B 246C 33D EEW R Wh\n"
BATCH = HAND * 200
COMMANDS = {
    "help": (["--help"], b""),
    "version": (["--version"], b""),
    "help of a task": (["rank", "--help"], b""),
    "a hand": (["rank", "--list", "skerry.json", "2B"], b""),
    "a hand as JSON": (["rank", "--json", "--list", "skerry.json", "2B"], b""),
    "lines": (["rank", "--list", "skerry.json"], BATCH),
    "lines as JSON": (["rank", "--json", "--list", "skerry.json"], BATCH),
    "unread lines as JSON": (["rank", "--json", "--list", "skerry.json"], b"?\n"),
    "the lists": (["lists"], b""),
    "an audit": (["audit", "skerry.json"], b""),
    "deals": (["deal", "--hands", "500"], b""),
    "a deal as JSON": (["deal", "--json"], b""),
    "a sheet": (["sheet", "--hands", "20"], b""),
    "a sheet of readings": (["sheet", "--reading", "--list", "closed.json", "--player", "NNN",
                             "234C 234D R Wh"], b""),
    "a sheet as HTML": (["sheet", "--html", "-"], b""),
    "a survey": (["survey", "--list", "../../lists/good/exchange.json", "--games", "1"], b""),
    "a reading": (["read", "--list", "skerry.json", "--exposed", "EEEJ", "2B"], b""),
    "a reading as JSON": (["read", "--json", "--list", "skerry.json", "--exposed", "EEEJ"], b""),
    "discards beside a player": (["discard", "--list", "skerry.json", "--player", "SSSJ"], BATCH),
    "an audit as JSON": (["audit", "--json", "skerry.json"], b""),
}


def problem(done):
    if done.returncode != STATUS_OUTPUT:
        return f"status {done.returncode}"
    return "" if b"could not be written in full" in done.stderr else "no message"


def silent_end(done):
    """As a filter ends whose reader has gone; a shell calls that status 141."""
    wanted = (-signal.SIGPIPE, b"")
    given = (done.returncode, done.stderr)
    return "" if given == wanted else f"status and messages {given}"


def full_disk(program, words, stdin):
    with open("/dev/full", "wb") as full:
        return program.run(*words, stdin=stdin, stdout=full)


def closed_pipe(program, words, stdin, **more):
    reader, writer = os.pipe()
    os.close(reader)
    try:
        return program.run(*words, stdin=stdin, stdout=writer, **more)
    finally:
        os.close(writer)


def ignored_pipe_signal(program, words, stdin):
    """A pipe without a reader, where SIGPIPE is ignored, as in some services."""
    before = signal.signal(signal.SIGPIPE, signal.SIG_IGN)
    try:
        return closed_pipe(program, words, stdin, restore_signals=False)
    finally:
        signal.signal(signal.SIGPIPE, before)


def closed_descriptor(program, words, stdin):
    return program.run("-c", 'exec "$0" "$@" >&-', program.path, *words, stdin=stdin,
                       program="/bin/sh")


def closed_input_checks(program):
    """Standard input that is closed has no lines, and no file comes in its place."""
    for words in (["rank"], ["rank", "--file", "-"], ["pass"], ["drill", "--no-history", "--seed", "1"]):
        shell = ["-c", 'exec "$0" "$@" <&-', program.path, *words]
        closed, empty = program.run(*shell, program="/bin/sh", stdin=None), program.run(*words)
        yield f"standard input is closed: {' '.join(words)}", (
            "" if (closed.returncode, closed.stdout) == (empty.returncode, empty.stdout)
            else f"{closed}, not {empty}")
    words = ["sheet", "--list", "skerry.json", "--seed", "1", "--no-key", "--html"]
    with tempfile.TemporaryDirectory() as folder:
        for closed in ("<&-", ">&-", "2>&-", "<&- >&-", "<&- >&- 2>&-"):
            path = pathlib.Path(folder) / "page"
            done = program.run("-c", f'exec "$0" "$@" {closed}', program.path, *words, str(path),
                               program="/bin/sh", stdin=None)
            same = path.read_bytes() == program.run(*words, "-").stdout
            yield f"a page with {closed}", "" if done.returncode == 0 and same else f"{done}"


def reader_that_leaves(program):
    """The program stops soon after, instead of reading hands for nobody."""
    child = program.start("--json", "--list", "skerry.json")
    child.stdin.write(HAND)
    child.stdin.flush()
    first = child.stdout.readline()
    child.stdout.close()
    lines = 0
    try:
        while lines < 200000:
            child.stdin.write(HAND)
            child.stdin.flush()
            lines += 1
    except BrokenPipeError:
        pass
    child.stdin = None
    _, errors = child.communicate()
    if not first.startswith(b'{"format":1,"hand"'):
        return f"the first answer was {first}"
    if lines == 200000:
        return "it read on"
    return silent_end(subprocess.CompletedProcess([], child.returncode, b"", errors))


def first_line(program):
    """What a shell sees of a reader that takes a line."""
    script = '"$0" deal --hands 100000 | head -n 1; echo "${PIPESTATUS[@]}"'
    done = program.run("-c", script, program.path, program="/bin/bash")
    first, *rest = done.stdout.decode().splitlines()
    good = first.startswith("# seed ") and rest == ["141 0"] and done.stderr == b""
    return "" if good else f"{done}"


def answer_at_once(program):
    """Each answer comes before the next hand is asked for."""
    child = program.start("--json", "--list", "skerry.json")
    answers = []
    for label in (b"a", b"b", b"c"):
        child.stdin.write(HAND[:-1] + b"\t" + label + b"\n")
        child.stdin.flush()
        answers.append(b'"label":"' + label + b'"' in child.stdout.readline())
    child.stdin.close()
    child.stdout.close()
    return "" if child.wait() == 0 and all(answers) else f"{answers}"


def list_checks(program):
    """A list that opens and cannot be read, and one that comes in pieces."""
    for name, path in (("a folder", "/"), ("memory that is not there", "/proc/self/mem")):
        for words in (["rank", "--list", path, "2B"], ["audit", path]):
            done = program.run(*words)
            told = path.encode() in done.stderr and b"cannot be read" in done.stderr
            yield f"{name} as the list of {words[0]}", (
                "" if (done.returncode, done.stdout) == (STATUS_USAGE, b"") and told
                else f"status {done.returncode}: {done.stderr}")
    text = (program.lists / "skerry.json").read_bytes()
    child = program.start("audit", "/dev/stdin")
    for at in range(0, len(text), 97):
        child.stdin.write(text[at:at + 97])
        child.stdin.flush()
    given, _ = child.communicate()
    wanted = program.run("audit", "skerry.json").stdout
    yield "a list from a pipe", "" if given == wanted and wanted else "other figures"


def vanishing_file(program):
    """A file that was there at first is gone when its turn comes: what was read
    before it is answered."""
    with tempfile.TemporaryDirectory() as folder:
        first, second = pathlib.Path(folder) / "first", pathlib.Path(folder) / "second"
        os.mkfifo(first)
        second.write_bytes(HAND)
        child = program.start("rank", "--json", "--top", "1", "--list", "skerry.json", "--file",
                              first, "--file", second)
        with open(first, "wb") as pipe:  # opens once the program does
            second.unlink()
            pipe.write(HAND * 3)
        output, errors = child.communicate()
        answers = program.objects(output)
    if child.returncode != STATUS_USAGE or len(answers) != 3:
        return f"status {child.returncode}, {len(answers)} answers"
    return "" if str(second).encode() in errors else f"{errors}"


def checks(program):
    yield from list_checks(program)
    yield "a file that vanishes", vanishing_file(program)
    for failure, wrong in ((full_disk, problem), (closed_pipe, silent_end),
                           (ignored_pipe_signal, problem), (closed_descriptor, problem)):
        for name, (words, stdin) in COMMANDS.items():
            yield f"{failure.__name__}: {name}", wrong(failure(program, words, stdin))
    yield "the first line", first_line(program)
    yield from closed_input_checks(program)
    yield "a reader that leaves", reader_that_leaves(program)
    yield "answers come at once", answer_at_once(program)
