"""Lists made to take more work than a question may: what is past a limit is told
in its place, and the rest is answered."""
import json
import pathlib
import signal
import tempfile
import time

TILES = {"flowers": 8, "jokers": 8}
WIDE = {"name": "Wide Net", "groups": [
    {"single": "suited"}, {"set": "any"}, {"single": "wind"}, {"single": "b", "suit": "any"},
    {"chow": "b", "suit": "y"}, {"pair": "any", "times": 2}, {"single": "c", "suit": "any"}]}
SMALL = {"name": "Small Net", "groups": [
    {"kong": "wind"}, {"kong": "dragon"}, {"sextet": "flower"}]}
PUNGS = [{"pung": rank, "suit": suit} for suit in "xy" for rank in "ab"] + [{"pair": "flower"}]
HEAVY, LIGHT = "FF JJJ EEE SSS WWW", "111222B 111222C FF"
WINDS = "EEE SSS RRR GGG FF"
SEED = "5"  # of a deal whose passes take too much as well
STATUS_STOPPED = 130
TOO_MUCH = "the passes of this hand take too much work"


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def write(path, patterns):
    path.write_text(json.dumps({"format": 1, "title": "Trawl", "tiles": TILES,
                                "patterns": patterns}))
    return str(path)


def audit_checks(program, path):
    write(path, [WIDE, SMALL])
    told = '"Wide Net" is not counted: its choices overlap in too many ways'
    done = program.run("audit", "--json", "--list", str(path))
    answer, = program.objects(done.stdout)
    figures = [[pattern[key] for key in ("targets", "ways", "dealt", "joker_only")]
               for pattern in answer["patterns"]]
    yield "a pattern that is not counted", compare(
        (done.returncode, figures[0], figures[1][0], answer["warnings"]),
        (0, [None] * 4, "12", [told]))
    done = program.run("audit", "--list", str(path))
    shown = done.stdout.decode()
    yield "likewise for people", "" if "?" in shown and f"Warning: {told}" in shown else shown


def pass_checks(program, path):
    write(path, [{"name": f"{i}", "groups": PUNGS} for i in range(2000)])
    stdin = f"{HEAVY}\theavy\n{LIGHT}\tlight\n".encode()
    done = program.run("pass", "--json", "--top", "1", "--list", str(path), stdin=stdin)
    heavy, light = program.objects(done.stdout)
    yield "a hand whose passes take too much, among others", compare(
        (done.returncode, heavy["error"], heavy["line"], light["label"], light["away"]),
        (1, TOO_MUCH, 1, "light", 0))
    done = program.run("pass", "--list", str(path), HEAVY)
    yield "likewise for people", (
        "" if done.returncode == 1 and TOO_MUCH.encode() in done.stderr and not done.stdout
        else f"{done}")
    done = program.run("sheet", "--seed", SEED, "--hands", "1", "--list", str(path))
    yield "a sheet says so in its key", (
        "" if done.returncode == 0 and b"The passes of this hand take too much" in done.stdout
        else f"{done}")
    done = program.run("drill", "--seed", SEED, "--rounds", "1", "--no-history", "--list", str(path),
                       stdin=b"1D 2D N\nquit\n")
    yield "a drill says so", (
        "" if TOO_MUCH.encode() in done.stderr else f"{done}")


def read_checks(program, path):
    """A reading that is too much as a whole says so, and counts what it can."""
    write(path, [WIDE, SMALL])
    text = program.run("read", "--list", str(path), "2B").stdout.decode()
    yield "a reading for people", (
        "" if all(words in text for words in (
            "2 of 2 patterns left", "\n    possible  ", "\n    not counted  ",
            "1 of these takes too much work to count", "cannot be said"))
        and "Danger" not in text else text)
    done = program.run("discard", "--list", str(path), "--player", "", "--json", WINDS)
    answer, = program.objects(done.stdout)
    yield "discards whose dangers are not known", compare(
        ({choice["danger"] for choice in answer["choices"]}, answer["safest"],
         answer["players"][0]["ready"], answer["players"][0]["left"]), ({None}, None, None, 2))


def cancelled(program, words, stdin):
    """A reading that takes seconds is given up, not waited for; lines before it are told."""
    child = program.start(*words)
    child.stdin.write(b"?\n")
    child.stdin.flush()
    first = child.stdout.readline()
    child.stdin.write(stdin)
    child.stdin.flush()
    time.sleep(0.3)
    child.send_signal(signal.SIGINT)
    rest, errors = child.stdout.read(), child.stderr.read().decode()
    given = (child.wait(), b'"error"' in first, rest, "stopped after 1 lines" in errors)
    return compare(given, (STATUS_STOPPED, True, b"", True))


def cancel_checks(program, path):
    write(path, [WIDE, SMALL])
    for jobs in "12":
        yield f"a reading is cancelled, {jobs} jobs", cancelled(
            program, ["read", "--list", str(path), "--json", "--jobs", jobs, "--file", "-"],
            b"2B\n")
        yield f"so are dangers of discards, {jobs} jobs", cancelled(
            program, ["discard", "--list", str(path), "--json", "--jobs", jobs, "--player", ""],
            f"{WINDS}\n".encode())


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "heavy.json"
        yield from audit_checks(program, path)
        yield from pass_checks(program, path)
        yield from read_checks(program, path)
        yield from cancel_checks(program, path)
