"""Cases with their whole output: cases/*.txt, which hold what the case shows,
the words of the command, its input, and what it must write and return. With
--update the answers are written again, to be read before they are kept."""
import concurrent.futures
import shlex

PARTS = ("command", "input", "output", "errors", "status")

# Left out where another program runs the cases (--under), since each takes ten
# seconds to minutes then; other cases go the same ways with less work.
SLOW = {
    "audit-broad": "counts a list of large numbers; audit and audit-nameless count too",
    "audit-json": "the work of audit",
    "audit-winds": "the work of audit",
    "pass-ahead": "thousands of simulated passes; test_api has a few",
    "pass-ahead-json": "thousands of simulated passes",
    "sheet-html": "the work of sheet",
    "sheet-reading": "plays games; sheet-reading-given has readings too",
}


def read_case(path):
    """The parts of a case, as lines; 'about' is what comes before the first."""
    parts, name = {"about": []}, "about"
    for line in path.read_bytes().decode("utf-8").split("\n")[:-1]:
        if line.startswith("--- ") and line[4:] in PARTS:
            name = line[4:]
            parts[name] = []
        else:
            parts[name].append(line)
    return {name: "".join(line + "\n" for line in lines) for name, lines in parts.items()}


def write_case(path, case):
    text = case["about"]
    for name in PARTS:
        if name in case and (case[name] or name == "command"):
            text += f"--- {name}\n{case[name]}"
    path.write_bytes(text.encode("utf-8"))


def outcome(program, case):
    words = shlex.split(case["command"])
    done = program.run(*words, stdin=case.get("input", "").encode("utf-8"))
    return {"output": done.stdout.decode("utf-8"), "errors": done.stderr.decode("utf-8"),
            "status": f"{done.returncode}\n"}


def difference(wanted, given):
    wanted, given = wanted.splitlines(), given.splitlines()
    for number in range(max(len(wanted), len(given))):
        was = given[number] if number < len(given) else "(nothing)"
        due = wanted[number] if number < len(wanted) else "(nothing)"
        if was != due:
            return f"line {number + 1}\n    wanted {due}\n    given  {was}"
    return "the ends of the lines"


def problem(program, case, given):
    for name in ("status", "output", "errors"):
        wanted = case.get(name, "")
        if wanted != given[name]:
            return f"{name}, {difference(wanted, given[name])}"
    if "--json" in case["command"] and given["output"]:
        program.objects(given["output"].encode("utf-8"))
    elif not any(word in case["command"] for word in ("tsv", "--html")) and any(
            len(line) > 80 for line in given["output"].splitlines()):
        return "a line is wider than 80 columns"
    return ""


def update(program):
    for path in sorted(program.cases.glob("*.txt")):
        case = read_case(path)
        write_case(path, {**case, **outcome(program, case)})


def checks(program):
    paths = sorted(program.cases.glob("*.txt"))
    yield "there are cases", "" if len(paths) > 20 else "no cases were found"
    missing = SLOW.keys() - {path.stem for path in paths}
    yield "slow cases are cases", f"no case is named {min(missing)}" if missing else ""
    cases = {path.stem: read_case(path) for path in paths
             if not (program.under and path.stem in SLOW)}
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        outcomes = pool.map(lambda case: outcome(program, case), cases.values())
        for (name, case), given in zip(cases.items(), outcomes):
            yield f"case {name}", problem(program, case, given)
