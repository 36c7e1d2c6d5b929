"""The programs of examples/ do what they say: each is built or started as its
first lines tell, and what it prints is compared with what must come.

    examples.py PROGRAM LIBRARY ROOT COMPILER [FLAG ...]

LIBRARY is the shared one; FLAGs are of the compiler, as for sanitizers. What an
example needs and is not here (node, jq, parallel ...) is named, and the example
left out.
"""
import contextlib
import getpass
import json
import os
import pathlib
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time

import jsonschema

WARNINGS = ["-Wall", "-Wextra", "-Wpedantic", "-Wshadow", "-Werror"]
HAND = "2468B 246C 33D EEW R Wh"
BAD_HAND = "2468B 246C 33D EEW R X"
TIMEOUT = 120  # seconds, for a program that hangs


class Examples:
    def __init__(self, program, library, root, compiler, flags):
        self.program, self.library, self.root = (pathlib.Path(path).resolve()
                                                 for path in (program, library, root))
        self.compiler, self.flags = compiler, flags
        self.folder = tempfile.TemporaryDirectory()
        self.work = pathlib.Path(self.folder.name)
        self.club = self.root / "patterns/club.json"
        self.environment = {**os.environ, "NEARHAND": str(self.program), "HOME": self.folder.name,
                            "NEARHAND_LIBRARY": str(self.library), "NO_COLOR": "1"}

    def run(self, *words, status=0, errors=None, stdin="", **environment):
        """What a command prints, or what it complains of when it is to fail."""
        errors = status != 0 if errors is None else errors
        done = subprocess.run([str(word) for word in words], input=stdin, capture_output=True,
                              text=True, cwd=self.work, env={**self.environment, **environment},
                              timeout=TIMEOUT, check=False)
        if done.returncode != status:
            raise AssertionError(f"{words} ended with {done.returncode}: {done.stderr}")
        return done.stderr if errors else done.stdout

    def example(self, name, *words, **more):
        return self.run(self.root / "examples" / name, *words, **more)

    def nearhand(self, *words, **more):
        return self.run(self.program, *words, **more)

    def build(self, name, compiler, *flags):
        built = self.work / name.replace(".", "-")
        self.run(compiler, *flags, *self.flags, *WARNINGS, f"-I{self.root / 'lib'}",
                 self.root / "examples" / name, "-o", built, f"-L{self.library.parent}",
                 f"-Wl,-rpath,{self.library.parent}", "-lnearhand")
        return built


def equal(expected, got):
    assert expected == got, f"expected\n{expected}\nbut got\n{got}"


def needs(*programs):
    missing = [name for name in programs if not shutil.which(name)]
    return f"{', '.join(missing)} not installed" if missing else None


def c_pass(examples):
    """The passes are the program's."""
    built = examples.build("pass.c", examples.compiler, "-std=c17")
    answer = json.loads(examples.nearhand("pass", "--json", "--top", "3", "--list",
                                          examples.club, HAND))
    equal("".join(f"pass {choice['pass']}: {choice['expected']:.4f} away to expect\n"
                  for choice in answer["choices"]) +
          f"of {answer['passes']} different passes\n", examples.run(built, examples.club, HAND))
    assert "'X' is not a tile" in examples.run(built, examples.club, BAD_HAND, status=1)
    examples.run(built, "none.json", HAND, status=1)


def c_play(examples):
    """The best discard is the program's, and what is claimed then brings the hand nearer."""
    built = examples.build("play.c", examples.compiler, "-std=c17")
    closed = examples.root / "tests/cli/lists/closed.json"
    equal("complete: Prevailing Draught\n", examples.run(built, closed, "EEE", "456D RR"))
    first, *claims = examples.run(built, closed, "EEE", "45D RG W").splitlines()
    best = json.loads(examples.nearhand("discard", "--list", closed, "--exposed", "EEE", "--json",
                                        "45D RG W"))["choices"][0]
    equal(f"discard {best['discard']}: {best['away']} away, {best['useful_count']} useful tiles, "
          f"{best['pattern']}", first)
    equal(["claim 3D for a set of 3: 1 away", "claim 6D for a set of 3: 1 away"], claims)
    equal("discard R: 1 away, 3 useful tiles, Prevailing Draught\nclaim G to win\n",
          examples.run(built, closed, "EEE", "456D RG"))
    assert "is not a set" in examples.run(built, closed, "44D", "45D RG W", status=1)
    assert "'X' is not a tile" in examples.run(built, closed, "EEE", "45D RG X", status=1)
    examples.run(built, "none.json", "", "45D", status=1)


def c_read(examples):
    """Patterns and dangers are the program's."""
    built = examples.build("read.c", examples.compiler, "-std=c17")
    skerry = examples.root / "tests/cli/lists/skerry.json"
    gone, hand = "19D RR", "2468B 246C 33D W R J"
    answer = json.loads(examples.nearhand("read", "--list", skerry, "--exposed", "EEEJ",
                                          "--discarded", gone, "--json", hand))
    lines = examples.run(built, skerry, "EEEJ", gone, hand).splitlines()
    equal(f"9 tiles hidden, {len(answer['patterns'])} of 6 patterns left", lines[0])
    wanted = [f"{100 * row['share']:5.1f}%  {row['pattern']}" for row in answer["patterns"]]
    wanted += [f"{100 * row['danger']:5.1f}%  {row['tile']}, {row['unseen']} unseen"
               for row in answer["tiles"] if row["mine"] > 0]
    assert len(wanted) > 9
    equal(wanted, lines[1:])
    assert "is not a set" in examples.run(built, skerry, "44D", gone, hand, status=1)
    assert "'X' is not a tile" in examples.run(built, skerry, "", gone, "45D X", status=1)
    assert "more copies" in examples.run(built, skerry, "EEEJ", "RRRR", hand, status=1)
    examples.run(built, "none.json", "", gone, hand, status=1)


def c_batch(examples):
    """The counts are those of the same deals, ranked by the program."""
    built = examples.build("batch.c", examples.compiler, "-std=c17")
    deals = examples.nearhand("deal", "--seed", 42, "--hands", 500)
    ranked = examples.nearhand("rank", "--json", "--top", 1, stdin=deals)
    nearest = [int(away) for away in re.findall(r'"nearest":(\d+)', ranked)]
    equal(500, len(nearest))
    equal("".join(f"{away} away: {nearest.count(away)}\n" for away in sorted(set(nearest))),
          examples.run(built, examples.club, 500, 42))
    examples.run(built, "none.json", 500, 42, status=1)


def cplusplus(examples):
    # The library's sanitizer has to be that of the program.
    compiler = "clang++" if examples.flags and "clang" in examples.compiler else "g++"
    built = examples.build("embed.cpp", compiler, "-std=c++17")
    equal("Twin Lights: 5 away, needs 37B 378C\npass 3D R Wh\n",
          examples.run(built, examples.club, HAND))
    assert "'X' is not a tile" in examples.run(built, examples.club, BAD_HAND, status=1)
    broken = examples.root / "tests/cli/lists/broken.json"
    assert "pattern" in examples.run(built, broken, HAND, status=1)


def python(examples):
    equal("5 away  Twin Lights, needs 37B 378C\n"
          "5 away  Undertow, needs 37B 5C 3D Wh\n"
          "5 away  Forenoon Watch, needs 37B 3C EW\n",
          examples.run(sys.executable, examples.root / "examples/rank.py", examples.club, HAND))
    for words, complaint in (((examples.club, BAD_HAND), "'X' is not a tile"),
                             (("none.json", HAND), "none.json")):
        assert complaint in examples.run(sys.executable, examples.root / "examples/rank.py", *words,
                                         status=1)


def node(examples):
    answers = examples.example("pipe.js", HAND, BAD_HAND, "11B")
    first, second, third = answers.splitlines()
    equal(f"{HAND}: Twin Lights, 5 away", first)
    assert second.startswith(f"{BAD_HAND}: 'X' is not a tile"), second
    equal("11B: The Bore, 12 away", third)
    assert "not a hand" in examples.example("pipe.js", "# remark", status=1)
    assert "ENOENT" in examples.example("pipe.js", HAND, status=1, NEARHAND="./none")


def deals(examples):
    rows = [row.split("\t") for row in examples.example("deals.sh", 300, 42).splitlines()]
    ranked = examples.nearhand("rank", "--format", "tsv", stdin=examples.nearhand(
        "deal", "--seed", 42, "--hands", 300))
    names = [row.split("\t")[4] for row in ranked.splitlines()[1:]]
    equal({name: names.count(name) for name in names}, {name: int(count) for count, name in rows})
    equal(sorted((int(count) for count, _ in rows), reverse=True), [int(count) for count, _ in rows])


def play(examples):
    closed = examples.root / "tests/cli/lists/closed.json"
    for task, words in (("check", ["456D RR"]), ("discard", ["45D RG W", "6D"]),
                        ("claim", ["45D RG", "6D"])):
        more = [] if task == "check" else ["--seen", words[1]]
        more += ["--top", "3"] if task == "discard" else []
        equal(examples.nearhand(task, "--list", closed, "--exposed", "EEE", *more, words[0]),
              examples.example("play.sh", closed, "EEE", *words))
    examples.example("play.sh", closed, status=2)
    assert "not a set" in examples.example("play.sh", closed, "44D", "45D RG W", status=2)


def sheet(examples):
    hands = examples.work / "evening.txt"
    hands.write_text(f"{HAND}\tAda\n{BAD_HAND}\n11B\tBen\n")
    table = examples.work / "evening.tsv"
    examples.example("sheet.sh", hands, table, 2, status=1)
    rows = [row.split("\t") for row in table.read_text().splitlines()]
    equal(["line", "label", "hand"], rows[0][:3])
    equal([("1", "Ada", "Twin Lights"), ("1", "Ada", "Undertow"), ("2", "", ""),
           ("3", "Ben", "The Bore"), ("3", "Ben", "Ebb and Flood")],
          [(row[0], row[1], row[4]) for row in rows[1:]])
    equal({len(rows[0])}, {len(row) for row in rows})
    before = table.read_bytes()
    examples.example("sheet.sh", "none.txt", table, status=2)
    equal(before, table.read_bytes())
    assert not list(examples.work.glob("*.part"))


def tutorial(examples):
    """Commands of the tutorial, with what is said to come; files as written."""
    text = (examples.root / "examples/tutorial.md").read_text()
    folder = examples.work / "tutorial"
    folder.mkdir()
    commands = 0
    path = f"{examples.program.parent}:{os.environ['PATH']}"
    for name, block in re.findall(r"^(?:`([\w.]+)`:\n\n)?```\w*\n(.*?)^```$", text, re.M | re.S):
        if name:
            (folder / name).write_text(block)
            continue
        for command, expected in re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n)*)", block, re.M):
            done = subprocess.run(["bash", "-c", command], cwd=folder, text=True, check=False,
                                  stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=TIMEOUT,
                                  env={**examples.environment, "PATH": path})
            assert expected == done.stdout, f"$ {command}\nprints\n{done.stdout}"
            commands += 1
    equal(text.count("\n$ "), commands)
    assert commands >= 4, commands


def recipes(examples):
    """Each recipe is valid by the schema, loads in the list of the first block, has the
    targets that the text says, and gives no warning."""
    text = (examples.root / "examples/recipes.md").read_text()
    blocks = re.findall(r"^```json\n(.*?)^```$(?:\n\nTargets: ([\d,]+)\.)?", text, re.M | re.S)
    equal(text.count("```json"), len(blocks))
    schema = json.loads((examples.root / "patterns/list.schema.json").read_text())
    frame = json.loads(blocks[0][0])
    names = []
    for block, targets in [("", ""), *blocks[1:]]:
        frame["patterns"] = [json.loads(block)] if block else frame["patterns"]
        jsonschema.Draft202012Validator(schema).validate(frame)
        path = examples.work / "recipe.json"
        path.write_text(json.dumps(frame))
        audit = json.loads(examples.nearhand("audit", "--json", path))
        equal([], audit["warnings"])
        if block:
            equal(targets.replace(",", ""), audit["patterns"][0]["targets"])
        names.append(audit["patterns"][0]["pattern"])
    equal(len(names), len(set(names)))
    assert len(names) >= 15, names


# ---------------------------------------------------------- many machines

# What stands for nearhand on two hosts, which are two ports of one sshd. It
# notes which host it is on. Where it is told to be lost it begins its work, and
# then ends the sshd of its connection, as a cut cable would.
ON_A_HOST = """#!/usr/bin/env bash
port=${{SSH_CONNECTION##* }}
echo "$port" >>{work}/visits
if [ -n "$port" ] && [ "$port" = "$(cat {work}/lost)" ]; then
    {begin} >{work}/taken
    pid=$PPID
    while [ "$(cat /proc/$pid/comm)" != sshd ]; do
        pid=$(sed 's/.*) . //; s/ .*//' /proc/$pid/stat)
    done
    kill -KILL "$pid"
    exit 1
fi
exec {program} "$@"
"""

SERVER = """Port {east}
Port {west}
ListenAddress 127.0.0.1
HostKey {work}/host
AuthorizedKeysFile {work}/user.pub
PidFile none
StrictModes no
UsePAM no
PasswordAuthentication no
PermitRootLogin prohibit-password
"""

CLIENT = """Host east
    Port {east}
Host west
    Port {west}
Host *
    HostName 127.0.0.1
    User {user}
    IdentityFile {work}/user
    IdentitiesOnly yes
    BatchMode yes
    LogLevel ERROR
    StrictHostKeyChecking no
    UserKnownHostsFile {work}/known
"""


def free_ports(count):
    held = [socket.create_server(("127.0.0.1", 0)) for _ in range(count)]
    ports = [each.getsockname()[1] for each in held]
    for each in held:
        each.close()
    return ports


def start_server(work, port):
    if os.geteuid() == 0:
        os.makedirs("/run/sshd", mode=0o755, exist_ok=True)  # sshd of Debian asks for it
    server = subprocess.Popen(["/usr/sbin/sshd", "-D", "-e", "-f", work / "server"],
                              stderr=(work / "server.log").open("w"))
    for _ in range(200):
        try:
            socket.create_connection(("127.0.0.1", port)).close()
            return server
        except OSError:
            time.sleep(0.05)
    server.kill()
    server.wait(TIMEOUT)
    raise AssertionError((work / "server.log").read_text())


@contextlib.contextmanager
def two_hosts(examples, name, begin):
    """The folder of two hosts, east and west, and their ports. `begin` is what the lost one
    does before it is lost."""
    work = examples.work / name
    work.mkdir(mode=0o700)
    for key in ("host", "user"):
        examples.run("ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", work / key)
    east, west = free_ports(2)
    names = {"work": work, "east": east, "west": west, "user": getpass.getuser(),
             "program": examples.program, "begin": begin.format(program=examples.program, work=work)}
    for file, text in (("server", SERVER), ("client", CLIENT), ("nearhand", ON_A_HOST)):
        (work / file).write_text(text.format(**names))
    (work / "nearhand").chmod(0o755)
    (work / "lost").write_text("")
    (work / "visits").write_text("")
    server = start_server(work, west)
    try:
        yield work, str(east), str(west)
    finally:
        server.kill()
        server.wait(TIMEOUT)


def many_machines(examples):
    hands = examples.nearhand("deal", "--seed", 5, "--hands", 400).splitlines()
    hands[60], hands[333] = "2X", "3Q\tlabelled"  # told with the numbers of their lines
    hands = "\n".join(hands) + "\n"
    alone = examples.nearhand("rank", "--json", "--top", 2, stdin=hands, status=1,
                              errors=False)
    with two_hosts(examples, "hosts", "head -n 3") as (work, east, west):
        for lost in ("", west):
            (work / "lost").write_text(lost)
            (work / "visits").write_text("")
            got = examples.example("many-machines.sh", "east,west", "--top", 2, stdin=hands,
                                   SSH=f"ssh -F {work}/client", LINES_EACH="100",
                                   NEARHAND=f"{work}/nearhand")
            visits = set((work / "visits").read_text().split())
            equal({east, west}, visits)
            assert alone == got, "with a lost host" if lost else "with two hosts"
        assert (work / "taken").read_text(), "no host was lost"


def survey_machines(examples):
    """A host dies in the middle; in another run all jobs fail, and the same command goes on."""
    options = ["--list", examples.root / "tests/lists/good/exchange.json", "--passing", "spare",
               "--look", 1]
    alone = examples.nearhand("survey", "--json", "--games", 75, *options)
    with two_hosts(examples, "survey-hosts", '{program} "$@" | head -c 300') as (work, east, west):
        hosts = work / "hosts"
        hosts.write_text("east\nwest\n")
        where = {"SSH": f"ssh -F {work}/client", "GAMES_EACH": "25"}

        def survey(folder, games=75, nearhand=work / "nearhand", **more):
            return examples.example("survey-machines.sh", hosts, work / folder, games, *options,
                                    NEARHAND=str(nearhand), **where, **more)

        (work / "lost").write_text(west)
        assert alone == survey("parts"), "with a lost host"
        equal({east, west}, set((work / "visits").read_text().split()))
        assert (work / "taken").read_text(), "no host was lost"
        (work / "lost").write_text("")
        assert "goes on" in survey("stopped", nearhand="false", status=1)
        assert alone == survey("stopped"), "after a failure"
        (work / "visits").write_text("")
        assert alone == survey("stopped"), "when all is done"
        equal([], (work / "visits").read_text().split())
        assert "another survey" in survey("parts", games=80, status=2)


CHECKS = (
    (c_pass, None),
    (c_play, None),
    (c_read, None),
    (c_batch, None),
    (cplusplus, needs("g++")),
    (python, None),
    (node, needs("node")),
    (deals, needs("jq")),
    (play, None),
    (sheet, None),
    (tutorial, None),
    (recipes, None),
    (many_machines, needs("parallel", "ssh", "/usr/sbin/sshd")),
    (survey_machines, needs("parallel", "ssh", "/usr/sbin/sshd")),
)


def main():
    program, library, root, compiler, *flags = sys.argv[1:]
    examples = Examples(program, library, root, compiler, flags)
    passed = failed = 0
    for check, missing in CHECKS:
        begun = time.monotonic()
        # ctypes would need the sanitizer's own library loaded before Python, and
        # hosts show nothing of the library.
        if check in (python, many_machines, survey_machines) and any("sanitize" in flag for flag in flags):
            missing = "left to a build without sanitizers"
        if missing:
            print(f"skipped {check.__name__}: {missing}")
            continue
        try:
            check(examples)
            passed += 1
            print(f"{check.__name__}: good, {time.monotonic() - begun:.1f} s")
        except (AssertionError, OSError, subprocess.TimeoutExpired) as problem:
            failed += 1
            print(f"FAILED {check.__name__}: {problem}")
    print(f"{passed} passed, {failed} failed")
    return failed != 0


if __name__ == "__main__":
    sys.exit(main())
