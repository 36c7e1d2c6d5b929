"""A picture or page takes the place of an old file at once, when it is whole:
whatever stops the program, the old file is there or the new one. What is read is
never written over, whatever names lead to it."""
import os
import pathlib
import shutil
import signal
import stat
import tempfile

from deals import compare
from faulty import with_faults
from program import started

STATUS_ANSWERED, STATUS_USAGE, STATUS_OUTPUT = 0, 2, 3
OLD = b"what was there before\n"
KILLS_MOST = 100  # calls on files that a run takes


def writers(program, history):
    """The words that write a file, except its name."""
    return {"progress": ["progress", "--history", str(history), "--svg"],
            "sheet": ["sheet", "--list", str(program.lists / "skerry.json"), "--seed", "1",
                      "--hands", "2", "--no-key", "--html"],
            "survey": ["survey", "--list", str(program.root / "tests/lists/good/exchange.json"),
                       "--games", "3", "--passing", "spare", "--jobs", "1", "--html"]}


# ------------------------------------------------------------ what is read

def names_of(folder, path):
    """Other ways to call a file."""
    link, link_to_link, hard = folder / "link", folder / "link-to-link", folder / "hard"
    link.symlink_to(path)
    link_to_link.symlink_to("link")
    hard.hardlink_to(path)
    return [path, f"{folder}/./{path.name}", f"{folder}/../{folder.name}/{path.name}", link,
            link_to_link, hard]


def input_checks(program, place):
    """The file is refused before anything is written, by all of its names."""
    history, club, hands = place / "h.jsonl", place / "c.json", place / "h.txt"
    hands.write_text("2468B 246C 33D EEW R Wh\n")
    shutil.copy(program.root / "tests/cli/histories/practice.jsonl", history)
    shutil.copy(program.lists / "skerry.json", club)
    for path, words in ((history, ["progress", "--history", "READ", "--svg", "WRITTEN"]),
                        (club, ["sheet", "--list", "READ", "--html", "WRITTEN"]),
                        (hands, ["sheet", "--file", "READ", "--html", "WRITTEN"]),
                        (club, ["survey", "--list", "READ", "--games", "1", "--html", "WRITTEN"]),
                        (club, ["drill", "--list", "READ", "--history", "WRITTEN"])):
        before = path.read_bytes()
        folder = place / f"{words[0]}-{path.name}-names"
        folder.mkdir()
        own = folder / path.name
        own.hardlink_to(path)
        for name in names_of(folder, own):
            for read, written in ((own, name), (name, own)):
                if words[0] != "progress" and "." not in pathlib.Path(read).name:
                    read = f"{folder}/./{pathlib.Path(read).name}"  # no name of a list
                given = {"READ": str(read), "WRITTEN": str(written)}
                done = program.run(*(given.get(word, word) for word in words),
                                   stdin=b"quit\n" if words[0] == "drill" else b"")
                yield f"{words[0]}: {read} is not written over as {written}", compare(
                    (done.returncode, done.stdout, path.read_bytes() == before,
                     b"would be overwritten" in done.stderr), (STATUS_USAGE, b"", True, True))


def named_list_checks(program, place):
    """A list that is found by name, and the history at its usual place."""
    data = place / "data"
    (data / "nearhand/lists").mkdir(parents=True)
    club = data / "nearhand/lists/own.json"
    history = data / "nearhand/history.jsonl"
    shutil.copy(program.lists / "skerry.json", club)
    environment = program.environment(XDG_DATA_HOME=str(data))
    done = program.run("sheet", "--list", "own", "--html", str(club), environment=environment)
    yield "a list found by name is not written over", compare(
        (done.returncode, club.read_bytes() == (program.lists / "skerry.json").read_bytes()),
        (STATUS_USAGE, True))
    done = program.run("progress", "--svg", str(history), environment=environment)
    yield "nor is a picture put where the history will be", compare(
        (done.returncode, history.exists()), (STATUS_USAGE, False))
    done = program.run("progress", "--history", "/dev/null", "--svg", "/dev/null")
    yield "a device may be both", compare(done.returncode, STATUS_ANSWERED)


# ------------------------------------------------------ the file as it was

def mode(path):
    return stat.S_IMODE(path.stat().st_mode)


def place_checks(program, place, name, words):
    folder = place / f"{name}-place"
    folder.mkdir()
    wanted = program.run(*words, "/dev/stdout").stdout
    wanted = wanted[wanted.index(b"<?xml" if name == "progress" else b"<!DOCTYPE"):]
    for umask in (0o022, 0o077):
        path = folder / f"new-{umask:o}"
        done = program.run(*words, str(path), umask=umask)
        yield f"{name}: a new file", compare(
            (done.returncode, path.read_bytes() == wanted, mode(path)),
            (STATUS_ANSWERED, True, 0o666 & ~umask))
    for kept in (0o600, 0o644, 0o664):
        path = folder / f"old-{kept:o}"
        path.write_bytes(OLD * 10000)
        path.chmod(kept)
        done = program.run(*words, str(path))
        yield f"{name}: who may read a file stays, {kept:o}", compare(
            (done.returncode, path.read_bytes() == wanted, mode(path)),
            (STATUS_ANSWERED, True, kept))
    path, link = folder / "far/target", folder / "link"
    path.parent.mkdir()
    link.symlink_to("far/target")
    for there in (False, True):
        if there:
            path.write_bytes(OLD)
        done = program.run(*words, str(link))
        yield f"{name}: a link stays one, {there}", compare(
            (done.returncode, path.read_bytes() == wanted, link.is_symlink()),
            (STATUS_ANSWERED, True, True))
    left = [each.name for each in folder.rglob(".*")]
    yield f"{name}: nothing is left beside them", compare(left, [])
    done = program.run(*words, "bare-name", cwd=folder)
    yield f"{name}: a name without a folder", compare(
        (done.returncode, (folder / "bare-name").read_bytes() == wanted), (STATUS_ANSWERED, True))


def special_checks(program, place, name, words):
    """Devices and pipes are written to as they are."""
    text = program.run(*words, "/dev/null").stdout
    alone = place / f"{name}-alone"
    program.run(*words, str(alone))
    wanted = alone.read_bytes()
    yield f"{name}: /dev/stdout", compare(program.run(*words, "/dev/stdout").stdout, text + wanted)
    with tempfile.TemporaryFile() as file:
        program.run(*words, "/dev/stdout", stdout=file)
        file.seek(0)
        yield f"{name}: standard output that is a file", compare(file.read(), text + wanted)
    pipe = place / f"{name}-pipe"
    os.mkfifo(pipe)
    reader = started(["cat", str(pipe)])
    done = program.run(*words, str(pipe))
    yield f"{name}: a pipe", compare((done.returncode, reader.communicate()[0],
                                      pipe.is_fifo()), (STATUS_ANSWERED, wanted, True))
    for path, status in (("/dev/full", STATUS_OUTPUT), ("/dev/null", STATUS_ANSWERED)):
        done = program.run(*words, path)
        yield f"{name}: {path}", compare((done.returncode, b"No space left" in done.stderr),
                                         (status, status == STATUS_OUTPUT))


def refused_checks(program, place, name, words):
    """What cannot be written shows before the work is done, and changes nothing."""
    cases = [str(place), f"{place}/none/file", f"{place}/h.jsonl/file"]
    if os.geteuid() != 0:
        locked, old = place / f"{name}-locked", place / f"{name}-old"
        locked.mkdir(mode=0o555)
        old.write_bytes(OLD)
        old.chmod(0o444)
        cases += [f"{locked}/file", str(old)]
    for path in cases:
        done = program.run(*words, path)
        yield f"{name}: {path} cannot be written", compare(
            (done.returncode, done.stdout, b"could not be written" in done.stderr),
            (STATUS_OUTPUT, b"", True))


# --------------------------------------------------------- what goes wrong

def full_disk_checks(program, place, name, words):
    """The old file stays, or there is still none."""
    path = place / f"{name}-full"
    program.run(*words, str(path))
    size = path.stat().st_size
    path.unlink()
    for old in (None, OLD):
        for room in (0, 1, size // 2, size - 1, size):
            if old:
                path.write_bytes(old)
            done = program.run(*words, str(path), environment=with_faults(program, full=room))
            whole = room == size
            given = path.read_bytes() if path.exists() else None
            yield f"{name}: room for {room} bytes of {size}, before {old}", compare(
                (done.returncode, given == old, b"No space left" in done.stderr,
                 list(place.glob(".nearhand*"))),
                (STATUS_ANSWERED if whole else STATUS_OUTPUT, not whole, not whole, []))
            path.unlink(missing_ok=True)


def killed_checks(program, place, name, words):
    """Killed before each call on a file in turn, until none is left."""
    folder = place / f"{name}-killed"
    folder.mkdir()
    path = folder / "file"
    program.run(*words, str(path))
    new = path.read_bytes()
    seen = set()
    for call in range(1, KILLS_MOST):
        path.write_bytes(OLD)
        done = program.run(*words, str(path), environment=with_faults(program, kill=call))
        given = path.read_bytes()
        seen.add(given == new)
        if done.returncode != -signal.SIGKILL or given not in (OLD, new):
            break
    yield f"{name}: killed at each of {call} calls", compare(
        (done.returncode, given == new, call > 5, seen), (STATUS_ANSWERED, True, True, {False, True}))


def checks(program):
    with tempfile.TemporaryDirectory() as name:
        place = pathlib.Path(name).resolve()
        yield from input_checks(program, place)
        yield from named_list_checks(program, place)
        for name, words in writers(program, place / "h.jsonl").items():
            yield from place_checks(program, place, name, words)
            yield from special_checks(program, place, name, words)
            yield from refused_checks(program, place, name, words)
            if program.faults:
                yield from full_disk_checks(program, place, name, words)
                yield from killed_checks(program, place, name, words)
