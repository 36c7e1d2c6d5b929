"""Reads and writes that are short, interrupted or fail at any point (faults.c):
the answers stay the same, or what could not be read or written is told, with
everything before it in its place."""
import errno
import random

import batch
import golden

STATUS_USAGE, STATUS_OUTPUT = 2, 3
CALLS_MOST = 2000  # of a run that ends well
RANK = ["rank", "--list", "skerry.json", "--top", "1"]


def with_faults(program, **faults):
    """The environment of a program whose calls go wrong in this way."""
    settings = {f"FAULTS_{name.upper()}": str(value) for name, value in faults.items()}
    return program.environment(LD_PRELOAD=str(program.faults), **settings)


class Faulty:
    """A program whose calls go wrong, for the checks of golden cases."""

    def __init__(self, program, **faults):
        self.program = program
        self.faulty = with_faults(program, **faults)

    def run(self, *words, stdin=b""):
        return self.program.run(*words, stdin=stdin, environment=self.faulty)

    def objects(self, output):
        return self.program.objects(output)


def same_answers_checks(program):
    for faults in ({"short": 1}, {"short": 7, "interrupt": 2}):
        name = ", ".join(f"{key} {value}" for key, value in faults.items())
        faulty = Faulty(program, **faults)
        for path in sorted(program.cases.glob("*.txt")):
            case = golden.read_case(path)
            yield f"{name}: case {path.stem}", golden.problem(faulty, case,
                                                              golden.outcome(faulty, case))
        stdin = batch.mixed_lines(400)
        words = [*RANK, "--json", "--jobs", "3"]
        given, wanted = faulty.run(*words, stdin=stdin), program.run(*words, stdin=stdin)
        same = (given.stdout, given.returncode) == (wanted.stdout, wanted.returncode)
        yield f"{name}: many hands", "" if same else f"other answers, status {given.returncode}"


def fails_at_every_call(program, kind, number, words, stdin, problem):
    """The first problem of the runs in which each call in turn is the first that
    fails, until one ends as if none did."""
    wanted = program.run(*words, stdin=stdin)
    for call in range(1, CALLS_MOST):
        faulty = with_faults(program, short=random.choice([100, 1000, 100000]),
                             errno=number, **{kind: call})
        done = program.run(*words, stdin=stdin, environment=faulty)
        if (done.stdout, done.returncode) == (wanted.stdout, wanted.returncode):
            return "" if call > 1 else "no call failed"
        wrong = problem(wanted.stdout, done, number)
        if wrong:
            return f"call {call}: {wrong}"
    return "it never ended well"


def write_problem(wanted, done, number):
    if done.returncode != STATUS_OUTPUT:
        return f"status {done.returncode}"
    if not wanted.startswith(done.stdout):
        return "what was written is not the beginning"
    message = f"could not be written in full: {errno_text(number)}"
    return "" if message in done.stderr.decode() else done.stderr.decode()


def read_problem(wanted, done, number):
    if done.returncode != STATUS_USAGE:
        return f"status {done.returncode}"
    whole = done.stdout == b"" or done.stdout.endswith(b"\n")
    if not wanted.startswith(done.stdout) or not whole:
        return "what was answered is not the beginning"
    return "" if f"read: {errno_text(number)}" in done.stderr.decode() else done.stderr.decode()


def errno_text(number):
    return {errno.EIO: "Input/output error", errno.ENOSPC: "No space left on device"}[number]


def failure_checks(program):
    hands = b"".join(b"2468B 246C 33D EEW R Wh\t%d\n" % number for number in range(40))
    commands = {
        "lines": ([*RANK, "--jobs", "1"], hands),
        "lines as JSON in threads": ([*RANK, "--json", "--jobs", "2"], hands),
        "a table": ([*RANK, "--format", "tsv", "--jobs", "1"], hands),
        "an audit": (["audit", "skerry.json"], b""),
        "readings": (["read", "--list", "skerry.json", "--exposed", "EEEJ", "--file", "-",
                      "--jobs", "1"], b"2B\n4B\n"),
    }
    for name, (words, stdin) in commands.items():
        for number in (errno.EIO, errno.ENOSPC):
            yield f"writes fail with {errno.errorcode[number]}: {name}", fails_at_every_call(
                program, "write", number, words, stdin, write_problem)
        yield f"reads fail: {name}", fails_at_every_call(program, "read", errno.EIO, words, stdin,
                                                         read_problem)


def error_output_checks(program):
    """Messages that nobody can be told change nothing else."""
    stdin = batch.mixed_lines(200)
    for words in ([*RANK, "--json"], RANK):
        given = program.run(*words, stdin=stdin, environment=with_faults(program, errors=1))
        wanted = program.run(*words, stdin=stdin)
        same = (given.stdout, given.returncode) == (wanted.stdout, wanted.returncode)
        yield f"standard error fails: {' '.join(words)}", (
            "" if same and wanted.stdout and given.stderr == b"" else "other answers")


def checks(program):
    yield from same_answers_checks(program)
    yield from failure_checks(program)
    yield from error_output_checks(program)
