"""Many hands: the same bytes in any number of threads, in bounded memory, in the
order of the input; stopped by a signal after whole lines; in files; as a
table."""
import csv
import io
import json
import os
import pathlib
import random
import signal
import subprocess
import tempfile

KINDS = [f"{rank}{suit}" for suit in "BCD" for rank in range(1, 10)] + "E S W N R G Wh".split()
WALL = [kind for kind in KINDS for _ in range(4)]
LIST = ["rank", "--list", "skerry.json"]
PATIENCE = 60  # seconds, for a program that hangs
STATUS_STOPPED = 130
COLUMNS = ("line label hand tiles pattern section ref points away chance target keep need spare "
           "error").split()


def hand():
    return " ".join(random.sample(WALL, 14))


def mixed_lines(count):
    """Hands with labels, and what else may stand between them."""
    odd = ["", "# a remark", "2468", "1B 1B 1B 1B 1B\tfive", "  2468X", "\t", "é\té"]
    return "".join((random.choice(odd) if random.random() < 0.1
                    else f"{hand()}\thand {number}") + "\n"
                   for number in range(count)).encode()


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def same_bytes_checks(program):
    stdin = mixed_lines(4000)
    for words in (["--json", "--top", "1"], ["--top", "1"], ["--format", "tsv"]):
        runs = [program.run(*LIST, *words, "--jobs", jobs, stdin=stdin) for jobs in "127"]
        name = " ".join(words)
        yield f"{name}: something was answered", (
            "" if runs[0].stdout.count(b"\n") > 3000 and runs[0].returncode == 1 else "too little")
        for jobs, done in zip("127", runs):
            same = (done.stdout, done.stderr, done.returncode) == (
                runs[0].stdout, runs[0].stderr, runs[0].returncode)
            yield f"{name}: the same with {jobs} jobs", "" if same else "other bytes"


def order_checks(program):
    """Every line is answered once, in its place, under its number."""
    stdin = mixed_lines(3000)
    wanted = []
    for number, line in enumerate(stdin.decode().split("\n")[:-1], 1):
        tiles, _, label = line.partition("\t")
        if label.startswith("hand "):
            wanted.append(label)
        elif line.strip() and not line.startswith("#"):
            wanted.append(number)
    done = program.run(*LIST, "--json", "--top", "1", "--jobs", "3", stdin=stdin)
    given = [answer["line"] if "error" in answer else answer["label"]
             for answer in program.objects(done.stdout)]
    yield "every line in its place", "" if given == wanted else "another order"
    single = program.run(*LIST, "--json", "--top", "1", stdin=stdin.split(b"\n")[0] + b"\n")
    yield "a hand alone has the same answer", (
        "" if done.stdout.startswith(single.stdout) else single.stdout.decode())


def table_checks(program):
    stdin = f"{hand()}\ta\x01b\tc\n#\n2B 7\tx\n".encode()
    done = program.run(*LIST, "--format", "tsv", "--top", "2", stdin=stdin)
    table = program.run(*LIST, "--json", "--top", "2", stdin=stdin)
    answers = program.objects(table.stdout)
    rows = list(csv.DictReader(io.StringIO(done.stdout.decode()), delimiter="\t",
                               quoting=csv.QUOTE_NONE))
    yield "the columns", compare(list(rows[0]), COLUMNS)
    yield "a row for each target, and the error", compare(
        ([row["line"] for row in rows], done.returncode), (["1", "1", "3"], 1))
    yield "no row is longer", compare([row.get(None) for row in rows], [None] * 3)
    for row, target in zip(rows, answers[0]["targets"]):
        told = {key: "" if value is None else str(value) for key, value in target.items()}
        keys = ("pattern", "section", "ref", "away", "target", "keep", "need", "spare")
        yield f"the row of {target['pattern']}", compare([row[key] for key in keys],
                                                         [told[key] for key in keys])
        yield "its numbers", compare(
            (float(row["chance"]), row["points"] and float(row["points"])),
            (target["chance"], "" if target["points"] is None else target["points"]))
        yield "its label", compare((row["label"], row["error"]), ("a b c", ""))
    yield "the row of an error", compare(
        (rows[2]["label"], rows[2]["hand"], rows[2]["error"]),
        ("x", "", f"column {answers[1]['column']}: {answers[1]['error']}"))
    empty = program.run(*LIST, "--format", "tsv", "--top", "0", "2B").stdout.decode().split("\n")
    yield "a hand without targets has a row", compare(
        empty, ["\t".join(COLUMNS), "\t".join(["1", "", "2B", "1"] + [""] * 11), ""])


def formula_checks(program):
    """No text of others becomes a formula, and one apostrophe less gives it back."""
    odd = ["=1+1", "+1", "-1", "@SUM(1)", '"=1+1"', " =1", "\uff1d1", "\uff0b1", "\uff0d1", "\uff201",
           "'", "'=1", "''", "plain", "a=b", "", "1-2", "\u00e9="]
    stdin = "".join(f"2B\t{label}\n" for label in odd).encode()
    rows = [line.split("\t") for line in
            program.run(*LIST, "--format", "tsv", "--top", "0", stdin=stdin).stdout.decode().splitlines()]
    given = [row[COLUMNS.index("label")] for row in rows[1:]]
    starts = tuple("=+-@\"\uff1d\uff0b\uff0d\uff20")
    yield "no label is a formula", compare(
        [label for label in given if label.lstrip().startswith(starts)], [])
    yield "an apostrophe less is the label", compare(
        [label[1:] if label.startswith("'") else label for label in given], odd)
    yield "a label that means no harm stays", compare(given[odd.index("plain"):], odd[odd.index("plain"):])
    told = [answer["label"] for answer in program.objects(
        program.run(*LIST, "--json", "--top", "0", stdin=stdin).stdout)]
    yield "JSON has labels as they are", compare(told, odd)
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "odd.json"
        data = json.loads((program.lists / "skerry.json").read_text())
        for pattern in data["patterns"]:
            pattern.update(name="=" + pattern["name"], section="+1", ref="-2")
        path.write_text(json.dumps(data))
        words = ["rank", "--list", str(path), "--format", "tsv", "--top", "1", "2B"]
        row = program.run(*words).stdout.decode().splitlines()[1].split("\t")
    given = [row[COLUMNS.index(key)] for key in ("pattern", "section", "ref")]
    yield "nor are names of a list", compare([given[0][:2], *given[1:]], ["'=", "'+1", "'-2"])


def file_checks(program):
    with tempfile.TemporaryDirectory() as folder:
        first, second = pathlib.Path(folder) / "first", pathlib.Path(folder) / "second"
        first.write_text("2B 3B\ta\n7\n4C\tb")
        second.write_text("# remark\n9\n5D\tc\n")
        words = [*LIST, "--json", "--top", "1", "--file", str(first)]
        done = program.run(*words)
        given = [answer.get("label", answer.get("line")) for answer in program.objects(done.stdout)]
        yield "a file", compare((given, done.returncode), (["a", 2, "b"], 1))
        done = program.run(*words, "--file", "-", "--file", str(second), stdin=b"8\n6D\td\n")
        given = [answer.get("label", (answer.get("file"), answer.get("line")))
                 for answer in program.objects(done.stdout)]
        yield "several files", compare(given, ["a", (str(first), 2), "b", ("standard input", 1),
                                               "d", (str(second), 2), "c"])
        done = program.run(*words, "--file", str(second) + "x")
        yield "a file that is not there", compare((done.stdout, done.returncode), (b"", 2)) or (
            "" if b"secondx" in done.stderr else done.stderr.decode())
        done = program.run(*words, "--file", folder)
        yield "a folder", compare((len(program.objects(done.stdout)), done.returncode), (3, 2))
        yield "a file and a hand", compare(program.run(*words, "2B").returncode, 2)


def peak_memory(program, hands, jobs):
    """Kilobytes of the program while it ranks so many hands."""
    line = f"{hand()}\n".encode()
    with tempfile.TemporaryFile() as stdin:
        stdin.write(line * hands)
        stdin.seek(0)
        child = program.start(*LIST, "--json", "--top", "1", "--jobs", jobs, stdin=stdin,
                              stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    return usage.ru_maxrss if child.returncode == 0 else None


def memory_checks(program):
    for jobs in "13":
        few, many = (peak_memory(program, hands, jobs) for hands in (2000, 40000))
        yield f"memory in {jobs} jobs", (
            "" if few and many and many < few + 8192 else f"{few} KB, then {many} KB")


def stopped(program, number, jobs):
    """Stops the program while more input is due, once it has answered."""
    child = program.start(*LIST, "--json", "--top", "1", "--jobs", jobs)
    child.stdin.write("".join(f"{hand()}\t{i}\n" for i in range(300)).encode())
    child.stdin.flush()
    first = child.stdout.readline()
    child.send_signal(number)
    rest = child.stdout.read()
    errors = child.stderr.read().decode()
    child.stdin.close()
    status = child.wait(PATIENCE)
    labels = [answer["label"] for answer in program.objects(first + rest)]
    if status != STATUS_STOPPED:
        return f"status {status}"
    if labels != [str(i) for i in range(len(labels))] or not (first + rest).endswith(b"}\n"):
        return "not the first lines, or not whole"
    return "" if f"stopped after {len(labels)} lines" in errors else errors


def endless(program, jobs):
    """Stopped in the middle of a file that would take long."""
    with tempfile.TemporaryFile() as stdin:
        stdin.write(f"{hand()}\n".encode() * 3000000)
        stdin.seek(0)
        child = program.start(*LIST, "--json", "--top", "1", "--jobs", jobs, stdin=stdin)
        first = child.stdout.readline()
        child.send_signal(signal.SIGINT)
        rest = child.stdout.read()
        errors = child.stderr.read().decode()
        status = child.wait(PATIENCE)
    lines = (first + rest).count(b"\n")
    if status != STATUS_STOPPED or lines == 3000000 or not (first + rest).endswith(b"}\n"):
        return f"status {status}, {lines} lines"
    return "" if f"stopped after {lines} lines" in errors else errors


def signal_checks(program):
    for jobs in "12":
        for number in (signal.SIGINT, signal.SIGTERM):
            yield f"{number.name}, {jobs} jobs", stopped(program, number, jobs)
        yield f"in the middle of a file, {jobs} jobs", endless(program, jobs)


def slow_checks(program):
    """Once all threads are at work, answers still come one by one."""
    child = program.start(*LIST, "--json", "--top", "1", "--jobs", "2")
    answers = []
    for label, hands in (("a", 1), ("b", 200), ("c", 1), ("d", 1)):
        child.stdin.write(f"{hand()}\t{label}\n".encode() * hands)
        child.stdin.flush()
        answers += [f'"label":"{label}"'.encode() in child.stdout.readline()
                    for _ in range(hands)]
    child.stdin.close()
    child.stdout.close()
    yield "slow hands are answered at once", (
        "" if child.wait(PATIENCE) == 0 and all(answers) else "other answers")


def closed_pipe_checks(program):
    """Nobody reads: the threads stop, long before the input ends."""
    with tempfile.TemporaryFile() as stdin:
        text = f"{hand()}\n".encode() * 200000
        stdin.write(text)
        stdin.flush()
        for jobs in "12":
            os.lseek(stdin.fileno(), 0, os.SEEK_SET)
            child = program.start(*LIST, "--json", "--jobs", jobs, stdin=stdin)
            child.stdout.readline()
            child.stdout.close()
            message = child.stderr.read()
            status = child.wait(PATIENCE)
            left = len(text) - os.lseek(stdin.fileno(), 0, os.SEEK_CUR)
            yield f"a reader that leaves, {jobs} jobs", (
                "" if status == -signal.SIGPIPE and left > 0 and message == b""
                else f"status {status}, {left} bytes left, {message}")


def summary_checks(program):
    stdin = b"2B\n3\n4C\n"
    quiet = program.run(*LIST, stdin=stdin).stderr.decode()
    told = program.run(*LIST, "--summary", stdin=stdin).stderr.decode()
    yield "no summary unless told", "" if "answered" not in quiet else quiet
    yield "a summary", "" if "2 hands answered, 1 line could not be read, " in told else told


def checks(program):
    yield from same_bytes_checks(program)
    yield from order_checks(program)
    yield from table_checks(program)
    yield from formula_checks(program)
    yield from file_checks(program)
    yield from memory_checks(program)
    yield from signal_checks(program)
    yield from slow_checks(program)
    yield from closed_pipe_checks(program)
    yield from summary_checks(program)
