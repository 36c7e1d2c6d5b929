"""The manual pages: mandoc finds nothing wrong with them and all that they refer
to exists; every task and option has its page, every function and every comment
of the header, and every key of a list; and the list shown as an example is one.

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
import headers


def output_of(*words):
    return subprocess.run(words, capture_output=True, text=True, check=False).stdout


def shown(path):
    """A page as it is read, without the overstriking of terminals."""
    return re.sub(".\b", "", output_of("mandoc", "-Tutf8", "-Owidth=78", path))


def words_of(text):
    return " ".join(re.findall(r"\w+", text))


def lint_checks(pages):
    for path in pages:
        if not path.read_text().startswith(".so "):
            yield f"{path.name} is sound", output_of("mandoc", "-Tlint", "-Wwarning", path)
    known = {path.name for path in pages}
    for path in pages:
        text = path.read_text()
        named = re.findall(r"Xr (\S+) (\d)", text) + re.findall(r"^\.so man\d/(\S+)\.(\d)", text, re.M)
        lost = {f"{name}.{part}" for name, part in named} - known
        yield f"{path.name} refers to pages that exist", ", ".join(sorted(lost))


def task_checks(program, folder):
    help_text = output_of(program, "--help")
    tasks = re.findall(r"^  ([a-z]+)  ", help_text.split("Tasks:")[1], re.M)
    pages = {path.stem for path in folder.glob("*.1")}
    wanted = {"nearhand"} | {f"nearhand-{task}" for task in tasks}
    yield "every task has its page (a file in cli/man), and no other", ", ".join(sorted(wanted ^ pages))
    for task in tasks:
        path = folder / f"nearhand-{task}.1"
        if not path.exists():
            continue
        text, told = shown(path), output_of(program, "help", task, "all")
        lost = [option for option in re.findall(r"^  (--[a-z-]+)", told, re.M)
                if not re.search(rf"^ +{option}( |$)", text, re.M)]
        yield f"the page of {task} has its options", ", ".join(lost)
        yield f"the page of {task} loses no word of --help", missing(told, text)


def missing(told, text):
    """Words that stand in the one and not in the other."""
    return ", ".join(sorted(set(words_of(told).split()) - set(words_of(text).split())
                            - {"Example", "Examples"}))


def header_comments(root):
    """The comments of the declarations, with each that stands behind code."""
    text = headers.text(root)
    text = text[text.index("#define NH_VERSION"):]
    text = re.sub(r"^/\*\n \* nearhand, chapter.*?\*/", "", text, flags=re.S | re.M)
    for comment in re.findall(r"/\*(.*?)\*/", text, re.S):
        if not re.match(r" -+ .* -+ $|\s*NEARHAND\w*_H\s*$", comment):
            yield words_of(re.sub(r"^\s*\* ?", " ", comment, flags=re.M))


def library_checks(root, folder):
    groups = [path for path in folder.glob("nearhand*.3")]
    names = {path: shown(path) for path in groups}
    for function in (root / "tests/symbols.txt").read_text().split():
        page = folder / f"{function}.3"
        told = [path.name for path, text in names.items()
                if re.search(rf"\b{function}\b", text.split("LIBRARY")[0])
                and re.search(rf"^ +{function}\(", text.split("DESCRIPTION")[0], re.M)]
        yield f"{function} has its page", (
            "" if page.exists() and len(told) == 1 else f"{page.exists()}, {told}")
    whole = words_of(" ".join(names.values()))
    lost = [comment for comment in header_comments(root) if comment not in whole]
    yield "no comment of the header is lost", "; ".join(lost)
    yield "the header was read", "" if len(list(header_comments(root))) > 60 else "no"


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
    lost = sorted(key for key in keys if not re.search(rf"\b{key}\b", text))
    yield "the page of lists has every key", ", ".join(lost) if len(keys) > 25 else "no keys"
    example = re.search(r"^ *\{.*^ *\}$", text, re.M | re.S).group(0)
    with tempfile.TemporaryDirectory() as scratch:
        path = pathlib.Path(scratch) / "small.json"
        path.write_text(example)
        done = subprocess.run([program, "audit", path], capture_output=True, text=True, check=False)
    yield "its example is a list", done.stderr if done.returncode == 0 else done.stderr or "refused"


def main():
    program_pages, library_pages, program, root = (pathlib.Path(word).resolve()
                                                   for word in sys.argv[1:])
    pages = sorted([*program_pages.glob("*.1"), *library_pages.glob("*.[35]")])
    return checking.run(lint_checks(pages), task_checks(program, program_pages),
                        library_checks(root, library_pages),
                        list_checks(program, root, library_pages))


if __name__ == "__main__":
    sys.exit(main())
