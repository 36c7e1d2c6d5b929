"""Where lists are found: as files, by name in the player's own folder, and by
name beside an installed program."""
import json
import os
import pathlib
import re
import shutil
import tempfile


def named_list(path, title):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps({"format": 1, "title": title, "hand": 3,
                                "patterns": [{"name": "P", "groups": [{"pung": "red"}]}]}))


def title(done):
    return json.loads(done.stdout)["list"] if done.returncode == 0 else done.stderr.decode()


def compare(given, wanted):
    return "" if given == wanted else f"wanted {wanted}, given {given}"


def own_checks(program, folder):
    data, home = folder / "data", folder / "home"
    named_list(data / "nearhand/lists/club.json", "own club")
    named_list(data / "nearhand/lists/mine.json", "mine in data")
    named_list(home / ".local/share/nearhand/lists/mine.json", "mine at home")
    named_list(folder / "nearhand/lists/mine.json", "mine by a relative path")

    def audit(*words, **environment):
        return title(program.run("audit", "--json", *words,
                                 environment=program.environment(**environment)))

    inside = {"XDG_DATA_HOME": str(data), "HOME": str(home)}
    yield "a name in XDG_DATA_HOME", compare(audit("mine", **inside), "mine in data")
    yield "--list the same", compare(audit("--list", "mine", **inside), "mine in data")
    yield "a name at home", compare(audit("mine", HOME=str(home)), "mine at home")
    yield "an empty XDG_DATA_HOME", compare(audit("mine", HOME=str(home), XDG_DATA_HOME=""),
                                            "mine at home")
    yield "a relative XDG_DATA_HOME is ignored", compare(
        audit("mine", HOME=str(home), XDG_DATA_HOME="../data"), "mine at home")
    yield "the player's own come first", compare(audit("club", **inside), "own club")
    yield "club if not told", compare(audit(**inside), "own club")
    done = program.run("lists", "--names", environment=program.environment(**inside))
    shipped = [path.stem for path in program.shipped_lists()]
    yield "all names, each once", compare(done.stdout.decode().split(), sorted({"mine", *shipped}))
    told = program.run("lists", environment=program.environment(**inside)).stdout.decode()
    yield "titles of the lists that the names stand for", (
        "" if re.search("^club +1  own club$", told, re.M)
        and re.search("^mine +1  mine in data$", told, re.M) else told)
    yield "a file", compare(audit(str(data / "nearhand/lists/mine.json")), "mine in data")


def installed_checks(program, folder):
    installed = folder / "prefix/bin/nearhand"
    installed.parent.mkdir(parents=True)
    shutil.copy2(program.path, installed)
    named_list(folder / "prefix/share/nearhand/patterns/harbour.json", "installed")
    done = program.run("audit", "--json", "harbour", program=installed)
    yield "a name beside the installed program", compare(title(done), "installed")


def unreadable_checks(program, folder):
    """Lists that only somebody else may read, as another user than root sees them."""
    top = folder / "narrow"
    installed = top / "bin/nearhand"
    installed.parent.mkdir(parents=True)
    shutil.copy2(program.path, installed)
    patterns = top / "share/nearhand/patterns"
    named_list(patterns / "hidden.json", "hidden")
    named_list(patterns / "open.json", "open")
    for part in (folder, *top.rglob("*")):
        part.chmod(0o755)
    user = {"user": 65534} if os.geteuid() == 0 else {}

    def audit(*words):
        done = program.run(*words, program=installed,
                           environment=program.environment(HOME=str(top)), **user)
        return done.returncode, done.stderr.decode()

    shown = f"{top}/bin/../share/nearhand/patterns"
    (patterns / "hidden.json").chmod(0)
    yield "a list that may not be read is named", compare(
        audit("audit", "hidden"), (2, f"nearhand audit: {shown}/hidden.json: cannot be read: Permission denied\n"))
    patterns.chmod(0)
    yield "a folder that may not be searched is named", compare(
        audit("audit", "open"), (2, f"nearhand audit: {shown}/open.json: cannot be read: Permission denied\n"))
    yield "and named where its lists are missing", compare(
        audit("lists", "--names"),
        (0, f"nearhand lists: {shown}: cannot be read: Permission denied; its lists are left out\n"))
    patterns.chmod(0o755)


def broken_checks(program, folder):
    named_list(folder / "partly/nearhand/lists/good.json", "good one")
    (folder / "partly/nearhand/lists/broken.json").write_text("{")
    done = program.run("lists", environment=program.environment(XDG_DATA_HOME=str(folder / "partly")))
    yield "a broken list is reported, and the others are listed", (
        "" if done.returncode == 2 and b"broken.json:1" in done.stderr and b"good one" in done.stdout
        else str(done))


def unknown_checks(program, folder):
    named_list(folder / "many/nearhand/lists/zebra.json", "z")
    named_list(folder / "many/nearhand/lists/anchor.json", "a")
    done = program.run("rank", "--list", "nonesuch", "1B",
                       environment=program.environment(XDG_DATA_HOME=str(folder / "many")))
    message = done.stderr.decode()
    shipped = [path.stem for path in program.shipped_lists()]
    names = "the lists are " + ", ".join(sorted({"zebra", "anchor", *shipped})) + " ("
    yield "an unknown name: those found are named", (
        "" if done.returncode == 2 and names in message and not done.stdout else message)
    done = program.run("rank", "--list", "", "1B")
    yield "an empty name", compare(done.returncode, 2)


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        yield from own_checks(program, pathlib.Path(folder))
        yield from installed_checks(program, pathlib.Path(folder))
        yield from unreadable_checks(program, pathlib.Path(folder))
        yield from broken_checks(program, pathlib.Path(folder))
        yield from unknown_checks(program, pathlib.Path(folder))
