"""The sessions that README and the manual show: what stands behind `$ nearhand ...` is
what the program answers, up to a line of dots. README stays short, and the files that it
names exist.

    readme.py [--update] PROGRAM ROOT

--update writes the program's answers in their place. Of a session that ends in a line of
dots it keeps the number of lines, and the last of them as it is.
"""
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

import checking

PROMPT = "$ nearhand "
DOTS = "...\n"
README_BYTES = 11_000
SURVEYS = pathlib.Path(__file__).resolve().parent / "lists/wins"
BLOCKS = {".md": re.compile(r"^```(?:[a-z]+)?\n(.*?)^```$", re.M | re.S),
          ".in": re.compile(r"^\.Bd -literal.*?\n(.*?)^\.Ed$", re.M | re.S)}


def documents(root):
    yield root / "README.md"
    yield from sorted([*root.glob("cli/man/*.in"), *root.glob("lib/man/*.in")])


def plain(path, text):
    """What mdoc shows of lines of text."""
    if path.suffix == ".in":
        text = re.sub(r"^\\&", "", text, flags=re.M).replace(r"\e", "\\")
    return text


def escaped(path, text):
    if path.suffix == ".in":
        text = re.sub(r"^(?=[.'])", r"\\&", text.replace("\\", r"\e"), flags=re.M)
    return text


def is_asked(command):
    """Not what goes on with another program, or needs a file of the reader's."""
    return "|" not in command and "mine.json" not in command


def sessions(path, text):
    """Each command of the blocks, the lines below it, and where these stand."""
    for block in BLOCKS[path.suffix].finditer(text):
        for session in re.finditer(r"^\$ .*\n(?:(?!\$ ).*\n)*", block.group(1), re.M):
            shown = plain(path, session.group())
            if shown.startswith(PROMPT):
                command, _, output = shown.partition("\n")
                if is_asked(command):
                    start = block.start(1) + session.start() + session.group().index("\n") + 1
                    yield command[len(PROMPT):], output, (start, block.start(1) + session.end())


def answer(program, command, home):
    """The first page of what the program answers; it is asked no more than once. The manual
    merges the surveys of the shipped lists."""
    typed = b"quit\n" if command.startswith("drill") else b""
    done = subprocess.run([program, *shlex.split(command)], input=typed, capture_output=True,
                          cwd=SURVEYS, env={"HOME": home, "XDG_DATA_HOME": home}, timeout=120,
                          check=False)
    page, _, _ = (done.stdout or done.stderr).decode().partition("\f")
    return page


def wrong(given, wanted):
    whole = not wanted.endswith(DOTS)
    if whole and given.rstrip("\n") == wanted.rstrip("\n"):
        return ""
    if not whole and given.startswith(wanted[:-len(DOTS)].rsplit("\n", 2)[0]):
        return ""
    for number, (a, b) in enumerate(zip(given.splitlines(), wanted.splitlines())):
        if a != b:
            return f"line {number + 1}: the program answers {a!r}, shown is {b!r}"
    return f"the program answers {given!r}"


def updated(given, shown):
    lines = shown.splitlines(keepends=True)
    if not shown.endswith(DOTS) or len(lines) == 1:
        return given.rstrip("\n") + "\n"
    return "".join(given.splitlines(keepends=True)[:len(lines) - 2] + lines[-2:])


def checks(program, root):
    with tempfile.TemporaryDirectory() as home:
        found = 0
        for path in documents(root):
            for command, output, _ in sessions(path, path.read_text("utf-8")):
                found += 1
                yield f"{path.name}: {command}", wrong(answer(program, command, home), output)
        yield "sessions are shown", "" if found >= 8 else f"only {found}"


def readme_checks(root):
    text = (root / "README.md").read_text("utf-8")
    yield "README is short", "" if len(text.encode()) < README_BYTES else f"{len(text.encode())} bytes"
    named = set(re.findall(r"(?<![\w/~])(?:cli|examples|lib|patterns|tests)/[\w./-]*\w", text))
    named = {name for name in named if not name.endswith((".1", ".a")) and "pages" not in name}
    yield "README names files", "" if len(named) > 8 else str(named)
    yield "files that README names exist", ", ".join(
        sorted(name for name in named if not (root / name).exists()))


def mistake_checks(program, root):
    """The mistake that README shows is that of its list less the words that it names."""
    text = (root / "README.md").read_text("utf-8")
    listed = re.search(r"^```json\n(.*?)^```$", text, re.M | re.S).group(1)
    lost = re.search(r"has lost\s+the first `(.*?)`", text).group(1)
    wanted = re.search(r"^\$ nearhand audit mine\.json\n(.*?)^```$", text, re.M | re.S).group(1)
    with tempfile.TemporaryDirectory() as folder:
        for taken, shown in (("", ""), (lost, wanted)):
            (pathlib.Path(folder) / "mine.json").write_text(listed.replace(taken, "", 1))
            done = subprocess.run([program, "audit", "mine.json"], capture_output=True, cwd=folder,
                                  timeout=120, check=False)
            yield f"README's list without '{taken}'", (
                "" if done.stderr.decode() == shown else f"{done.stderr.decode()!r}")


def update(program, root):
    with tempfile.TemporaryDirectory() as home:
        for path in documents(root):
            text = path.read_text("utf-8")
            for command, output, (start, end) in reversed(list(sessions(path, text))):
                new = updated(answer(program, command, home), output)
                text = text[:start] + escaped(path, new) + text[end:]
            path.write_text(text, "utf-8")


def main():
    words = [word for word in sys.argv[1:] if word != "--update"]
    program, root = (pathlib.Path(word).resolve() for word in words)
    if len(words) < len(sys.argv) - 1:
        return update(program, root)
    failed = checking.run(checks(program, root), readme_checks(root),
                          mistake_checks(program, root))
    if failed:
        print(f"When the screens are right: tests/readme.py --update {program} {root}")
    return failed


if __name__ == "__main__":
    sys.exit(main())
