"""The manual pages: mandoc finds nothing wrong with them, and all that they refer to
exists; every task and option has its page, every function, type and comment of the
headers, every key of a list and every limit; and the list shown as an example is one.

    pages.py PROGRAM_PAGES LIBRARY_PAGES PROGRAM ROOT
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True  # nothing is left behind in the tree

import checking


def output_of(*words):
    return subprocess.run(words, capture_output=True, text=True, timeout=120, check=False).stdout


def shown(path):
    """A page as it is read, without the overstriking of terminals."""
    return re.sub(".\b", "", output_of("mandoc", "-Tutf8", "-Owidth=78", path))


def words_of(text):
    return " ".join(re.findall(r"\w+", text))


def lint_checks(pages):
    for path in pages:
        if not path.read_text().startswith(".so "):
            yield f"{path.name} is sound", output_of("mandoc", "-Tlint", "-Wwarning", path)
            yield f"{path.name} is complete", ", ".join(re.findall(r"@[A-Z_]+@", path.read_text()))
    known = {path.name for path in pages}
    for path in pages:
        text = path.read_text()
        named = re.findall(r"Xr (\S+) (\d)", text) + re.findall(r"^\.so man\d/(\S+)\.(\d)", text, re.M)
        lost = {f"{name}.{part}" for name, part in named} - known
        yield f"{path.name} refers to pages that exist", ", ".join(sorted(lost))


def task_checks(program, folder):
    tasks = re.findall(r"^  ([a-z]+)  ", output_of(program, "--help").split("Tasks:")[1], re.M)
    yield "the program has tasks", "" if len(tasks) > 5 else str(tasks)
    pages = {path.stem for path in folder.glob("*.1")}
    wanted = {"nearhand"} | {f"nearhand-{task}" for task in tasks}
    yield "every task has its page (a file in cli/man), and no other", ", ".join(sorted(wanted ^ pages))
    first = shown(folder / "nearhand.1")
    lost = [task for task in tasks if f"nearhand-{task}(1)" not in first.split("SEE ALSO")[0]]
    yield "nearhand.1 names every task", ", ".join(lost)
    for task in tasks:
        path = folder / f"nearhand-{task}.1"
        if not path.exists():
            continue
        text, full = shown(path), output_of(program, "help", task, "all")
        lost = [option for option in re.findall(r"^  (--[a-z-]+)", full, re.M)
                if not re.search(rf"^ +{option}( |$)", text, re.M)]
        yield f"the page of {task} has its options", ", ".join(lost)
        yield f"the page of {task} loses no word of the help", missing(full, text)


def missing(full, text):
    """Words of the help that are not in the page."""
    full = re.split(r"^(?:More|Examples?):", full, flags=re.M)[0]
    return ", ".join(sorted(set(words_of(full).split()) - set(words_of(text).split())))


def header_comments(header):
    """The paragraphs of a header's comments, except the one at its end and headings."""
    for comment in re.findall(r"/\*(.*?)\*/", header.read_text(), re.S):
        if not re.match(r" -+ .* -+ $|\s*NEARHAND_\w*\s*$", comment):
            text = re.sub(r"^\s*\* ?", "", comment, flags=re.M)
            for paragraph in text.split("\n\n"):
                yield re.sub(r"^nearhand( chapter \d+)? ", "", words_of(paragraph))


def header_checks(header, folder):
    text = shown(folder / f"{header.stem}.3")
    words = words_of(text)
    found = list(header_comments(header))
    yield f"{header.name} has comments", "" if found else "none"
    yield f"no comment of {header.name} is lost", "; ".join(
        comment for comment in found if comment not in words)
    code = re.sub(r"/\*.*?\*/", "", header.read_text(), flags=re.S)
    names = {*re.findall(r"\bNH_API\b[^;(]*?\b(nh_\w+)\(", code),
             *re.findall(r"^typedef (?:struct|enum) (nh_\w+)", code, re.M),
             *re.findall(r"^typedef .*\(\*(nh_\w+)\)", code, re.M)}
    for name in sorted(names):
        page = folder / f"{name}.3"
        yield f"{name} has its page", (
            "" if page.exists() and page.read_text() == f".so man3/{header.stem}.3\n"
            and re.search(rf"\b{name}\b", text.split("LIBRARY")[0]) else "no")


def library_checks(root, folder):
    headers = sorted((root / "lib").glob("nearhand*.h"))
    for header in headers:
        yield from header_checks(header, folder)
    exported = set((root / "tests/symbols.txt").read_text().split())
    pages = {path.stem for path in folder.glob("nh_*.3")}
    yield "every exported function has its page", ", ".join(sorted(exported - pages))


def keys_of(schema):
    if isinstance(schema, dict):
        yield from schema.get("properties", {})
        for value in schema.values():
            yield from keys_of(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from keys_of(value)


def list_checks(program, root, folder):
    text = shown(folder / "nearhand-list.5")
    keys = set(keys_of(json.loads((root / "patterns/list.schema.json").read_text())))
    lost = sorted(key for key in keys if not re.search(rf"(?<!\w){re.escape(key)}\b", text))
    yield "the page of lists has every key", ", ".join(lost) if len(keys) > 25 else "no keys"
    # A limit is a power of two or round, which a page may write with units.
    limits = re.findall(r"^#define NH_\w+_MAX (\d+)u?\b", (root / "lib/nearhand_list.h").read_text(), re.M)
    numbers = set(re.findall(r"\d+", text[text.index("LIMITS"):].replace(",", "")))
    yield "the page of lists has every limit", (
        ", ".join(sorted(set(limits) - numbers)) if len(limits) > 8 else "no limits")
    example = re.search(r"^ *\{$.*^ *\}$", text, re.M | re.S).group(0)
    with tempfile.TemporaryDirectory() as scratch:
        path = pathlib.Path(scratch) / "small.json"
        path.write_text(example)
        done = subprocess.run([program, "audit", path], capture_output=True, text=True, timeout=120,
                              check=False)
    yield "its example is a list", done.stderr if done.returncode == 0 else done.stderr or "refused"


def main():
    program_pages, library_pages, program, root = (pathlib.Path(word).resolve()
                                                   for word in sys.argv[1:])
    pages = sorted([*program_pages.glob("*.1"), *library_pages.glob("*.[357]")])
    return checking.run(lint_checks(pages), task_checks(program, program_pages),
                        library_checks(root, library_pages),
                        list_checks(program, root, library_pages))


if __name__ == "__main__":
    sys.exit(main())
