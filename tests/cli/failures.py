"""Output that cannot be written in full is never passed over in silence: a full
disk, a pipe without a reader, a descriptor that is closed."""
import os
import subprocess

STATUS_OUTPUT = 3
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
    "an audit as JSON": (["audit", "--json", "skerry.json"], b""),
}


def problem(done):
    if done.returncode != STATUS_OUTPUT:
        return f"status {done.returncode}"
    return "" if b"could not be written in full" in done.stderr else "no message"


def full_disk(program, words, stdin):
    with open("/dev/full", "wb") as full:
        return program.run(*words, stdin=stdin, stdout=full)


def closed_pipe(program, words, stdin):
    reader, writer = os.pipe()
    os.close(reader)
    try:
        return program.run(*words, stdin=stdin, stdout=writer)
    finally:
        os.close(writer)


def closed_descriptor(program, words, stdin):
    return program.run("-c", 'exec "$0" "$@" >&-', program.path, *words, stdin=stdin,
                       program="/bin/sh")


def reader_that_leaves(program):
    """The program stops soon after, instead of reading hands for nobody."""
    child = subprocess.Popen([program.path, "--json", "--list", "skerry.json"],
                             stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                             cwd=program.lists, env=program.environment())
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
    return problem(subprocess.CompletedProcess([], child.returncode, b"", errors))


def answer_at_once(program):
    """Each answer comes before the next hand is asked for."""
    child = subprocess.Popen([program.path, "--json", "--list", "skerry.json"],
                             stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                             cwd=program.lists, env=program.environment())
    answers = []
    for label in (b"a", b"b", b"c"):
        child.stdin.write(HAND[:-1] + b"\t" + label + b"\n")
        child.stdin.flush()
        answers.append(b'"label":"' + label + b'"' in child.stdout.readline())
    child.stdin.close()
    child.stdout.close()
    return "" if child.wait() == 0 and all(answers) else f"{answers}"


def checks(program):
    for failure in (full_disk, closed_pipe, closed_descriptor):
        for name, (words, stdin) in COMMANDS.items():
            done = failure(program, words, stdin)
            yield f"{failure.__name__}: {name}", problem(done)
    yield "a reader that leaves", reader_that_leaves(program)
    yield "answers come at once", answer_at_once(program)
