"""What a survey has counted is in its file, as it was or with what came since, whatever goes
wrong while it is written: a full disk, a program that is killed (faults.c). The survey can
be taken up again, and comes to what one run does.

NEARHAND_EVERY=1 in the environment fills the disk at each byte and kills the program before
each call on a file; else at a few."""
import concurrent.futures
import pathlib
import signal
import tempfile

from deals import compare
from faulty import with_faults
from kept_rounds import calls_of, every

STATUS_ANSWERED, STATUS_OUTPUT = 0, 3
LIST = "../../lists/good/exchange.json"
WORDS = ("survey", "--list", LIST, "--passing", "spare", "--look", "1", "--jobs", "1")
FEW, MANY = 3, 6  # games, before and after
SOME = 8


class Survey:
    """Games that are the same each time: a part of them, and the part that goes on."""

    def __init__(self, program, folder):
        self.program = program
        self.few = self.whole(folder / "few.json", FEW)
        self.many = self.whole(folder / "many.json", MANY)

    def run(self, path, games, *more, **faults):
        return self.program.run(
            *WORDS, "--games", str(games), "--out", str(path), *more,
            environment=with_faults(self.program, **faults) if faults else None)

    def whole(self, path, games):
        self.run(path, games)
        return path.read_bytes()

    def go_on(self, path, **faults):
        """Takes up the part of a few games until there are many."""
        path.write_bytes(self.few)
        return self.run(path, MANY, "--resume", **faults)

    def ends_well(self, path):
        done = self.run(path, MANY, "--resume")
        return compare((done.returncode, path.read_bytes()), (STATUS_ANSWERED, self.many))


def full_checks(survey, folder):
    size = len(survey.many)
    rooms = range(size) if every() else (0, 1, size // 2, size - 1)

    def fill(room):
        path = folder / f"full-{room}.json"
        done = survey.go_on(path, full=room)
        problem = compare((done.returncode, path.read_bytes(), b"No space left" in done.stderr),
                          (STATUS_OUTPUT, survey.few, True))
        return problem or (survey.ends_well(path) if room in (0, size - 1) else "")

    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for room, problem in zip(rooms, pool.map(fill, rooms)):
            yield f"the part stays as it was where {room} bytes have room", problem


def killed_checks(survey, folder):
    calls = calls_of(lambda call: survey.go_on(folder / "calls.json", kill=call))
    written = 0
    for call in range(1 if every() else max(1, calls - SOME + 1), calls + 1):
        path = folder / f"killed-{call}.json"
        done = survey.go_on(path, kill=call)
        left = path.read_bytes()
        written += left == survey.many
        problem = "" if done.returncode == -signal.SIGKILL else f"status {done.returncode}"
        if left not in (survey.few, survey.many):
            problem = f"{len(left)} bytes are neither part"
        yield f"killed before call {call} of {calls}", problem or survey.ends_well(path)
    yield "some of the killed had written what they counted, some had not", (
        "" if 0 < written < calls else f"{written} of {calls}")


def checks(program):
    if not program.faults:
        return
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        survey = Survey(program, folder)
        yield from full_checks(survey, folder)
        yield from killed_checks(survey, folder)
