"""Bytes that nobody means to send: they are answered in their place, the output
stays valid, and nothing of them reaches the terminal as a command."""
import os

LINE_MAX = 65536  # INPUT_LINE_MAX of cli/io/input.h
HAND = b"2468B 246C 33D EEW R Wh"


def rank(program, stdin, *words):
    return program.run("rank", "--list", "skerry.json", "--top", "1", *words, stdin=stdin)


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def brief(answers):
    """What tells answers apart: the label, or the line and column of an error."""
    return [(answer["line"], answer["column"]) if "error" in answer else answer.get("label")
            for answer in answers]


def json_checks(program):
    cases = {
        "no newline at the end": (HAND, [None]),
        "line ends of other systems": (b"# hands\r\n" + HAND + b"\ta\r\n\r\n" + HAND + b"\r\n",
                                       ["a", None]),
        "a byte order mark": (b"\xef\xbb\xbf" + HAND + b"\tx\n", ["x"]),
        "a mark before a remark": (b"\xef\xbb\xbf# hands\n" + HAND + b"\tx\n", ["x"]),
        "an empty label": (HAND + b"\t\n", [""]),
        "tabs in a label": (HAND + b"\ta\tb\n", ["a\tb"]),
        "a label that is not UTF-8": (HAND + b"\tcaf\xe9 \xed\xa0\x80 \xc0\x80\n",
                                      ["caf\ufffd \ufffd\ufffd\ufffd \ufffd\ufffd"]),
        "a label with a zero byte": (HAND + b"\ta\0b\n", ["a\0b"]),
        "a label with quotes": (HAND + b'\t"\\/\x1b\x7f\n', ['"\\/\x1b\x7f']),
        "a zero byte in the hand": (b"2B\0 4B\n", [(1, 3)]),
        "a hand that is not UTF-8": (b"# x\n\n2B \xff\n" + HAND + b"\n", [(3, 4), None]),
        "a hand that ends within a character": (b"2B \xf0\x9f\x80", [(1, 4)]),
        "a tile that lies face down": ("2B \U0001F02B".encode(), [(1, 4)]),
        "only a label": (b"\tx\n", [(1, 1)]),
        "only blanks": (b" \t \n\t\n\n", []),
        "nothing": (b"", []),
    }
    for name, (stdin, wanted) in cases.items():
        done = rank(program, stdin, "--json")
        answers = program.objects(done.stdout)
        unread = any(isinstance(item, tuple) for item in wanted)
        yield name, compare((brief(answers), done.returncode), (wanted, int(unread)))


def length_checks(program):
    """The longest line that is read, and one that is longer by a byte."""
    label = LINE_MAX - len(HAND) - 1
    for more in (0, 1):
        stdin = HAND + b"\t" + b"x" * (label + more) + b"\n" + HAND + b"\tnext\n"
        done = rank(program, stdin, "--json")
        first, second = program.objects(done.stdout)
        if more:
            good = first["line"] == 1 and str(LINE_MAX) in first["error"] and done.returncode == 1
        else:
            good = len(first["label"]) == label and done.returncode == 0
        yield f"a line of {LINE_MAX + more} bytes", (
            "" if good and second["label"] == "next" else f"{first.keys()} {second}")
    for stdin in (b"#" + b"x" * 3 * LINE_MAX + b"\n" + HAND + b"\n", b"#" * 2 * LINE_MAX):
        done = rank(program, stdin, "--json")
        wanted = [None] if b"\n" in stdin else []
        yield "a remark of any length", compare(brief(program.objects(done.stdout)), wanted)


def text_checks(program):
    stdin = (HAND + b"\t\x1b[31mred\x07 \xc2\x9b5m \xe2\x80\xae\n"
             + b"2B \x1b[2J 9\xc2\x9b\n" + b"2B" + b" " * 200 + b"Q" + b" 3B" * 50 + b"\n")
    done = rank(program, stdin)
    shown = (done.stdout + done.stderr).decode("utf-8")
    controls = sorted({c for c in shown if (c < " " and c != "\n") or "\x7f" <= c <= "\x9f"
                       or "\u202a" <= c <= "\u202e"})
    yield "no control character is shown", compare(controls, [])
    lines = done.stderr.decode("utf-8").splitlines()
    yield "a caret below the place", compare(lines[1], "   ^")
    caret = lines[4].index("^")
    yield "a long line is cut round the place", (
        "" if lines[3][caret] == "Q" and len(lines[3]) <= 80 else "\n".join(lines))


def escape_checks(program):
    """JSON is read on terminals too: what they would obey is escaped there."""
    obeyed = [chr(code) for code in (*range(0x7f, 0xa0), 0x61c, 0x200e, 0x200f,
                                     *range(0x2028, 0x202f), *range(0x2066, 0x206a))]
    label = "a" + "".join(obeyed) + "b\u00e9\u6f22\U0001f000"
    done = rank(program, HAND + f"\t{label}\n".encode() + b"2B 9\t" + label.encode(), "--json")
    shown = done.stdout.decode()
    yield "JSON holds no control", compare([c for c in obeyed if c in shown], [])
    yield "and the same text", compare(
        [answer["label"] for answer in program.objects(done.stdout)], [label, label])
    yield "other characters are not escaped", (
        "" if "b\u00e9\u6f22\U0001f000" in shown and "a\\u007f" in shown else shown)
    for word in ("--\x1b[31mx", "--top\x1b[2J", "-\u202eq", "--seen=\x1b[2J", "\u009b2J", "--\x07=1"):
        for task in ([], ["rank"], ["progress"], ["drill"]):
            done = program.run(*task, word)
            shown = (done.stdout + done.stderr).decode()
            yield f"the word {word!r} is shown without controls, {task}", compare(
                (done.returncode > 0, [c for c in shown if (c < " " and c != "\n") or c in obeyed]),
                (True, []))


def exact_place_checks(program):
    """The column of hands that go wrong at every place in turn."""
    parts = ["2468B", "\U0001F000", "246C", "wh", "33D", "eew", "r"]
    for at in range(len(parts)):
        text = " ".join([*parts[:at], "\u00e9?", *parts[at:]])
        column = len(" ".join([*parts[:at], ""])) + 1
        given = program.objects(rank(program, text.encode(), "--json").stdout)
        yield f"the column of part {at}", compare(brief(given), [(1, column)])


def directory_checks(program):
    """A folder as standard input opens, but cannot be read."""
    folder = os.open("/", os.O_RDONLY)
    try:
        child = program.start("rank", "--list", "skerry.json", stdin=folder)
        output, errors = child.communicate()
    finally:
        os.close(folder)
    yield "input that cannot be read", compare((child.returncode, output), (2, b"")) or (
        "" if errors else "no message")


def checks(program):
    yield from json_checks(program)
    yield from length_checks(program)
    yield from text_checks(program)
    yield from escape_checks(program)
    yield from exact_place_checks(program)
    yield from directory_checks(program)
