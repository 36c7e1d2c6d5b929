"""The program under test, as every check runs it: in the folder of the test
lists, with an environment that nothing of the user's gets into."""
import json
import os
import pathlib
import shutil
import signal
import subprocess
import tempfile
import threading

import jsonschema

# A key that only answers of a kind have, the others once those before are named.
KEYS = {"error": "error-line", "seat_wins": "survey", "groups": "progress", "votes": "history",
        "deal": "deal", "discards": "discard", "hidden": "read", "players": "read",
        "claims": "claim", "choices": "pass", "complete": "check", "hand": "rank"}

TIMEOUT = 120  # seconds, for a program that hangs
UNDER_TIMEOUT = 600  # for one that another runs slowly


def nodes(schema):
    """The objects of a schema, itself among them."""
    if isinstance(schema, dict):
        yield schema
    for value in schema.values() if isinstance(schema, dict) else schema:
        if isinstance(value, (dict, list)):
            yield from nodes(value)


def closed(schema):
    """The schema, with every object refused that has keys which it does not name. What is
    shipped allows them: answers may gain keys. An object that others build upon is closed
    where they do."""
    based = {node["$ref"] for node in nodes(schema) if "$ref" in node and "properties" in node}
    for node in list(nodes(schema)):
        own = node.get("type") == "object" and "properties" in node
        base = any(node is schema["$defs"][name.rsplit("/", 1)[1]] for name in based)
        if (own and not base and "additionalProperties" not in node) or node.get("$ref") in based:
            node["unevaluatedProperties"] = False
    return schema


def default_signals():
    """What a test sends gets there, though the tests were started with it ignored, as
    nohup and a script in the background do."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGPIPE, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


def started(words, **more):
    """A program beside the test, with pipes to and from it. It is killed when it takes
    too long, so that no test waits for it without end."""
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    child = subprocess.Popen(words, **{**pipes, "preexec_fn": default_signals, **more})
    guard = threading.Timer(TIMEOUT, child.kill)
    guard.daemon = True
    guard.start()
    return child


class Program:
    def __init__(self, path, root, faults=None, under=None):
        self.path = pathlib.Path(path).resolve()
        self.under = [shutil.which(under[0]) or under[0], *under[1:]] if under else []
        self.root = pathlib.Path(root).resolve()
        self.lists = self.root / "tests/cli/lists"
        self.cases = self.root / "tests/cli/cases"
        self.faults = faults and pathlib.Path(faults).resolve()
        self.home = tempfile.TemporaryDirectory()
        self.schemas = {name: self.schema(name)
                        for name in ("rank", "pass", "discard", "check", "claim", "read", "audit",
                                     "deal", "history", "progress", "survey", "error-line")}

    def schema(self, name):
        schema = json.loads((self.root / f"cli/schema/{name}.schema.json").read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        return jsonschema.Draft202012Validator(closed(schema))

    def environment(self, **changes):
        kept = {name: value for name, value in os.environ.items()
                if name.endswith("SAN_OPTIONS") or name == "LD_LIBRARY_PATH"}
        return {**kept, "HOME": self.home.name, "TERM": "xterm", **changes}

    def run(self, *words, stdin=b"", environment=None, program=None, **more):
        more = {"stdout": subprocess.PIPE, "cwd": self.lists, **more}
        return subprocess.run([*self.under, program or self.path, *words], input=stdin,
                              stderr=subprocess.PIPE, env=environment or self.environment(),
                              timeout=(UNDER_TIMEOUT if self.under else TIMEOUT), check=False,
                              **more)

    def start(self, *words, environment=None, **more):
        """The program beside the test, as `started` has it."""
        return started([self.path, *words], env=environment or self.environment(),
                       **{"cwd": self.lists, **more})

    def all_lists(self):
        """The lists of the tests that load, and the shipped ones."""
        own = [path for path in sorted(self.lists.glob("*.json")) if path.stem != "broken"]
        return own + self.shipped_lists()

    def shipped_lists(self):
        return [path for path in sorted((self.root / "patterns").glob("*.json"))
                if not path.name.endswith(".schema.json")]

    def objects(self, output):
        """The JSON objects of an output, each valid by the schema of its kind.
        Constants that are no JSON (NaN) are refused."""
        answers = []
        for line in output.decode("utf-8").splitlines():
            answer = json.loads(line, parse_constant=lambda word: 1 // 0)
            kind = next((kind for key, kind in KEYS.items() if key in answer), "audit")
            self.schemas[kind].validate(answer)
            answers.append(answer)
        return answers
