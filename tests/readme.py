"""The examples of README: what stands behind `$ nearhand ...` is what the program
answers, up to a line of dots.

    readme.py PROGRAM ROOT
"""
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

import checking

PROMPT = "$ nearhand "


def sessions(text):
    """Each command of the blocks, and the lines below it."""
    for block in re.findall(r"^```(?:[a-z]+)?\n(.*?)^```$", text, re.M | re.S):
        for session in re.split(r"^(?=\$ )", block, flags=re.M):
            if session.startswith(PROMPT):
                command, _, output = session.partition("\n")
                yield command[len(PROMPT):], output


def told(program, command, home):
    """The first page of what the program answers, which is asked no more than once."""
    done = subprocess.run([program, *shlex.split(command)], input=b"quit\n", capture_output=True,
                          env={"HOME": home, "XDG_DATA_HOME": home}, check=False)
    page, _, _ = (done.stdout or done.stderr).decode().partition("\f")
    return page


def wrong(given, wanted):
    whole = not wanted.endswith("...\n")
    if whole and given.rstrip("\n") == wanted.rstrip("\n"):
        return ""
    if not whole and given.startswith(wanted[:-len("...\n")].rsplit("\n", 2)[0]):
        return ""
    for number, (a, b) in enumerate(zip(given.splitlines(), wanted.splitlines())):
        if a != b:
            return f"line {number + 1}: given {a!r}, README has {b!r}"
    return f"given {given!r}"


def checks(program, root):
    with tempfile.TemporaryDirectory() as home:
        for command, output in sessions((root / "README.md").read_text()):
            if "|" in command or "mine.json" in command:
                continue
            yield command, wrong(told(program, command, home), output)


if __name__ == "__main__":
    sys.exit(checking.run(checks(*(pathlib.Path(word).resolve() for word in sys.argv[1:]))))
