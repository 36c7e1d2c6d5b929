"""What is read on a screen fits it: help in 80 columns and 24 lines, answers in
80 columns whatever the names and labels are. Columns are counted by Python's
own tables of Unicode, not by those of the program."""
import json
import os
import pathlib
import random
import re
import subprocess
import tempfile
import unicodedata


def columns(line):
    """An upper bound for what terminals take for a line."""
    return sum(0 if unicodedata.category(c) in ("Mn", "Me")
               else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)


def widest(text):
    return max((columns(line) for line in text.splitlines()), default=0)


# Scripts with combining marks, wide characters and both; no controls.
RANGES = [(0x20, 0x7E), (0xC0, 0x24F), (0x300, 0x36F), (0x391, 0x3C9), (0x410, 0x44F),
          (0x3041, 0x3096), (0x4E00, 0x4FFF), (0xAC00, 0xACFF), (0xFF01, 0xFF5E),
          (0x1F000, 0x1F02B), (0x1F300, 0x1F3FF)]


def random_text(most_bytes):
    text = ""
    while len(text.encode()) < most_bytes - 4:
        first, last = random.choice(RANGES)
        character = chr(random.randint(first, last))
        if unicodedata.category(character) != "Cn":  # not assigned: it has no width
            text += character
    return text.strip() or "x"


def with_random_names(path):
    """A list with title, names, sections and refs of random characters."""
    data = json.loads(path.read_text())
    data["title"] = random_text(random.randrange(8, 400))
    for pattern in data["patterns"]:
        pattern["name"] = random_text(random.randrange(8, 400))
        pattern["section"] = random_text(random.randrange(8, 400))
        pattern["ref"] = random_text(random.choice([6, 10, 400]))
    return json.dumps(data, ensure_ascii=False)


def tasks_of(program):
    return re.findall(r"^  ([a-z]+)  ", program.run("--help").stdout.decode().split("Tasks:")[1], re.M)


def help_checks(program):
    tasks = tasks_of(program)
    yield "tasks", "" if {"rank", "audit", "lists"} <= set(tasks) else str(tasks)
    for words in (["--help"], ["-h"], ["audit", "-h"], *([task, "--help"] for task in tasks)):
        done = program.run(*words)
        text = done.stdout.decode()
        lines = text.splitlines()
        wrong = []
        if done.returncode != 0 or done.stderr:
            wrong.append(f"status {done.returncode}")
        if len(lines) > 24 or len(lines) < 10 or widest(text) > 80:
            wrong.append(f"{len(lines)} lines, {widest(text)} columns")
        if "Example" not in text:
            wrong.append("no example")
        yield " ".join(words) + " fits a screen", ", ".join(wrong)


# What the example at the end of the help of a task shows, among the rest.
SHOWN = {
    "rank": r"closest pattern \d+ away",
    "pass": r"^Pass \S.*: \d+ away after the pass",
    "discard": r"^Discard \S+: \d+ away; .* on average",
    "check": r"^Complete: ",
    "claim": r"^Claim (?!nothing).* (?:to win|for a set)\.",
    "read": r"on the table, \d+ tiles hidden: [1-9]\d* of \d+ patterns left\.(?s:.*) safest$",
    "audit": r"^\d+ patterns in \d+ sections",
    "deal": r"closest pattern \d+ away",
    "lists": r"^\S.* points$",
    "sheet": r"^<h2>Answer key</h2>$",
    "drill": r"^Pass 3 to the right",
    "progress": r"^15 rounds in 6 sessions(?s:.*)^<svg ",
    "survey": r"100 games",
}


def example_checks(program):
    """The example at the end of each help works as it is written, and shows something."""
    helps = {task: program.run("help", task).stdout.decode() for task in tasks_of(program)}
    yield "all tasks have an example", "" if helps.keys() == SHOWN.keys() else str([*helps])
    general = program.run("help").stdout.decode()
    for task, text in [*helps.items(), ("rank", general)]:
        example = re.search(r"Example: (nearhand .*)\n\Z", text)
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            (folder / "nearhand").mkdir()
            (folder / "nearhand/history.jsonl").write_bytes(
                (program.root / "tests/cli/histories/practice.jsonl").read_bytes())
            (folder / "bin").mkdir()
            (folder / "bin/nearhand").symlink_to(program.path)
            done = subprocess.run(
                ["bash", "-o", "pipefail", "-c", example.group(1) if example else "false"],
                input=b"quit\n" if task == "drill" else b"", capture_output=True, cwd=folder, timeout=300, check=False,
                env=program.environment(XDG_DATA_HOME=str(folder),
                                        PATH=f"{folder}/bin:{os.environ['PATH']}"))
            pages = [path.read_text() for path in sorted(folder.glob("*.*"))]
        shown = "\n".join([done.stdout.decode(), *pages])
        yield f"the example of {task}: {example and example.group(1)}", (
            f"status {done.returncode}: {done.stderr.decode()}" if done.returncode or done.stderr
            else "" if re.search(SHOWN[task], shown, re.M) else shown)


def version_checks(program):
    header = (program.root / "lib/nearhand_base.h").read_text()
    version = re.search(r'#define NH_VERSION "(.*)"', header).group(1)
    given = program.run("--version").stdout.decode()
    yield "version", "" if given == f"nearhand {version}\n" else given


def name_checks(program):
    hands = "".join(f"{hand}\t{random_text(random.randrange(8, 300))}\n"
                    for hand in ("2468B 246C 33D EEW R Wh", "222B 4444B 66D 888D JJ", "F"))
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "names.json"
        for number in range(20):
            path.write_text(with_random_names(program.lists / "skerry.json"))
            for task in ("rank", "rank --order worth", "rank --by section --order worth", "audit"):
                done = program.run(*task.split(), "--list", str(path), stdin=hands.encode())
                wide = widest(done.stdout.decode())
                yield f"{task} with odd names, {number}", (
                    f"status {done.returncode}: {done.stderr.decode()}" if done.returncode
                    else f"{wide} columns" if not 40 < wide <= 80 else "")


ROWS_MOST = 10
SCREEN = 23  # lines, with one more for the next command


def rank_lines(program, words, hand):
    return program.run("rank", *words, *hand.split()).stdout.decode().splitlines()


def fit_checks(program):
    """The default ranking fits a screen, and with one more row it would not."""
    for number in range(30):
        name = random.choice(["club", "jokers", "traditional"])
        words = ["--list", name, *random.choice(
            [[], ["--seen", "FFFF 44D"], ["--prevailing", "E", "--seat", "E"]])]
        if name == "traditional" and "--seen" in words:
            words[-1] = "444D EEE"
        dealt = program.run("deal", "--list", name, "--seed", str(random.randrange(10**6)))
        hand = dealt.stdout.decode().splitlines()[1].split("\t")[0]
        lines = rank_lines(program, words, hand)
        rows = sum(re.match(" {0,3}[0-9]+  ", line) is not None for line in lines)
        more = rank_lines(program, [*words, "--top", str(rows + 1)], hand)
        if not lines:  # more of a tile gone and held than there are
            continue
        yield f"{' '.join(words)} {hand} fits a screen", (
            f"{len(lines)} lines" if len(lines) > SCREEN
            else f"{rows} rows where another fits" if rows < ROWS_MOST and len(more) <= SCREEN else "")


def checks(program):
    yield from help_checks(program)
    yield from example_checks(program)
    yield from fit_checks(program)
    yield from version_checks(program)
    yield from name_checks(program)
