"""On a terminal the roles of tiles are styled, and the styles say the same as
the marks do elsewhere. NO_COLOR, a dumb terminal and anything that is not a
terminal get none."""
import os
import pty
import re
import select
import time

import screens

HAND = ["--list", "skerry.json", "2224444B 66D 88D EE J"]
STYLES = re.compile("\x1b\\[[0-9;]*m")
PATIENCE = 60  # seconds, for a program that hangs


def on_terminal(program, words, typed=b"", **environment):
    """What a program writes to a terminal and how it ends; `typed` comes from
    its keyboard."""
    master, slave = pty.openpty()
    child = program.start(*words, stdin=slave, stdout=slave, stderr=slave,
                          environment=program.environment(**environment))
    os.close(slave)
    if typed:
        os.write(master, typed)
    shown = b""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        ready, _, _ = select.select([master], [], [], 1)
        try:
            more = os.read(master, 65536) if ready else b""
        except OSError:  # the terminal is closed at the other end
            break
        if not more and child.poll() is not None:
            break
        shown += more
    if child.poll() is None and time.monotonic() >= end:
        child.kill()
    os.close(master)
    return shown.decode("utf-8").replace("\r\n", "\n"), child.wait()


def spans(text, style):
    """The tiles in a style, a text for each stretch of them."""
    return re.findall(f"\x1b\\[{style}m([^\x1b]*)\x1b\\[0m", text)


def style_checks(program):
    plain = program.run(*HAND).stdout.decode()
    styled, status = on_terminal(program, HAND)
    yield "a terminal is styled", "" if "\x1b[" in styled and status == 0 else styled
    needed = [mark for line in plain.splitlines()[:-1] for mark in re.findall(r"\(([^)]*)\)", line)]
    underlined = [span for line in styled.splitlines()[:-1] for span in spans(line, 4)]
    yield "what is underlined is what is in parentheses", (
        "" if needed == underlined and needed else f"{needed} {underlined}")
    spare = [line.split("don't need ")[1] for line in plain.splitlines() if "don't need " in line]
    dimmed = [line.split("don't need ")[1] for line in styled.splitlines() if "don't need " in line]
    yield "what is not needed is dim", (
        "" if [spans(line, 2)[0] for line in dimmed] == spare and spare else f"{dimmed}")
    yield "every style ends in its line", (
        "" if all(STYLES.findall(line)[-1:] in ([], ["\x1b[0m"]) for line in styled.splitlines())
        else styled)
    bare = STYLES.sub("", styled)
    yield "without styles the words are the same", (
        "" if [line.split() for line in bare.splitlines()[:3]]
        == [line.replace("(", "").replace(")", "").split() for line in plain.splitlines()[:3]]
        else bare)
    yield "a styled line fits", "" if screens.widest(bare) <= 80 else bare


def plain_checks(program):
    plain = program.run(*HAND).stdout.decode()
    yield "no style without a terminal", "" if "\x1b" not in plain and "(" in plain else plain
    for environment in ({"NO_COLOR": "1"}, {"NO_COLOR": "0"}, {"TERM": "dumb"}):
        shown, _ = on_terminal(program, HAND, **environment)
        yield f"no style with {environment}", "" if shown == plain else shown
    shown, _ = on_terminal(program, HAND, NO_COLOR="")
    yield "an empty NO_COLOR is none", "" if "\x1b[" in shown else shown
    shown, _ = on_terminal(program, ["audit", "skerry.json"])
    yield "an audit is styled", "" if "\x1b[" in shown else shown
    shown, _ = on_terminal(program, ["audit", "skerry.json"], NO_COLOR="1")
    wanted = program.run("audit", "skerry.json").stdout.decode()
    yield "an audit heeds NO_COLOR", "" if shown == wanted else shown
    shown, _ = on_terminal(program, ["--json", *HAND])
    yield "JSON is never styled", "" if "\x1b" not in shown and shown.startswith("{") else shown


def keyboard_checks(program):
    shown, status = on_terminal(program, ["rank", "--list", "skerry.json"], b"2B 4B\n\x04")
    yield "a terminal shows what to type", (
        "" if "Ctrl-D" in shown and "2 tiles of 14" in shown and status == 0 else shown)
    shown, status = on_terminal(program, [])
    yield "the program alone gives its help", (
        "" if "Example: nearhand" in shown and status == 0 else shown)


def checks(program):
    yield from style_checks(program)
    yield from plain_checks(program)
    yield from keyboard_checks(program)
