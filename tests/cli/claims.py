"""Claims of random hands on every list, each held against the tasks that answer for
what it comes to: a win against check, a set against rank with the set on the table;
jokers taken from the table against rank; the text against the JSON."""
import collections
import fractions
import json
import random

import answers
import screens

HANDS = 4  # for each list
CLAIMS = 3  # of a hand that are followed


def text_of(tiles):
    """Tiles as a hand is typed."""
    return " ".join(sorted(tiles.elements()))


def ask(program, task, path, *words):
    done = program.run(task, "--list", str(path), "--json", *words)
    if done.returncode != 0:
        raise ValueError((done.stdout + done.stderr).decode())
    answer, = program.objects(done.stdout)
    return answer


def waiting_hands(program, path, count):
    """Hands a tile short of whole that lack a few tiles of some target."""
    size = json.loads(path.read_text()).get("hand", 14) - 1
    wall = answers.tile_set(path)
    for hand in answers.random_hands(path, count):
        rows = ask(program, "rank", path, hand)["targets"]
        if not rows:
            continue
        target = list(answers.tiles(random.choice(rows)["target"]).elements())
        random.shuffle(target)
        kept = collections.Counter(target[:max(size - random.randrange(4), 1)][:size])
        kept &= wall
        spare = list((wall - kept).elements())
        random.shuffle(spare)
        yield kept + collections.Counter(spare[:size - sum(kept.values())])


def tiles_of_set(word):
    """A set as players write it: 44DJ, EEEJ, FFF."""
    suit = word.rstrip("J")[-1]
    natural = [rank + suit for rank in word if rank.isdigit()] if suit in "BCD" else []
    if not natural:
        return answers.tiles(word)
    return collections.Counter(natural + ["J"] * word.count("J"))


# ------------------------------------------------------------- the JSON

def win_problem(program, path, hand, claim):
    answer = ask(program, "check", path, text_of(hand + collections.Counter([claim["tile"]])))
    if not answer["complete"] or answer["patterns"][0]["pattern"] != claim["pattern"]:
        return "check does not find it complete"
    return "" if (claim["away"], claim["chance"], claim["discard"]) == (0, 1, None) else "figures"


def set_problem(program, path, hand, claim):
    rest = hand + collections.Counter([claim["tile"]])
    used = tiles_of_set(claim["set"])
    if used - rest:
        return "the set is not of the hand"
    rest -= used
    words = ["--top", "1", "--exposed", claim["set"]]
    if claim["discard"]:
        rest -= collections.Counter([claim["discard"]])
        words += ["--seen", claim["discard"]]
    row = ask(program, "rank", path, *words, text_of(rest))
    best = row["targets"][0]
    if any(claim[key] != best[key] for key in ("away", "pattern", "chance_exact")):
        return f"rank has {best['away']}, {best['pattern']}, {best['chance_exact']}"
    return "" if set(claim["gives_up"]) <= set(row["dead"]) else "a pattern is not given up"


def claim_problem(program, path, hand, answer, claim):
    if claim["use"] == "win":
        return win_problem(program, path, hand, claim)
    worth = fractions.Fraction(claim["chance_exact"]) > fractions.Fraction(answer["chance_exact"])
    if claim["worth"] != worth:
        return "worth is not what the chances say"
    if claim["away"] >= answer["away"]:
        return "it does not bring the hand nearer"
    return set_problem(program, path, hand, claim)


def answer_problem(program, path, hand, answer):
    row = ask(program, "rank", path, "--top", "1", text_of(hand))
    if answer["away"] != row["nearest"]:
        return "away is not that of rank"
    if row["targets"] and any(answer[key] != row["targets"][0][key]
                              for key in ("pattern", "chance_exact")):
        return "the chance is not that of rank"
    keys = [(claim["use"] != "win", -fractions.Fraction(claim["chance_exact"]))
            for claim in answer["claims"]]
    if keys != sorted(keys) or len(keys) != answer["claim_count"]:
        return "the claims are not in order"
    for claim in random.sample(answer["claims"], min(CLAIMS, len(keys))):
        problem = claim_problem(program, path, hand, answer, claim)
        if problem:
            return f"{claim['tile']} for {claim['set']}: {problem}"
    return ""


def text_problem(program, path, hand, answer):
    done = program.run("claim", "--list", str(path), "--top", "300", text_of(hand))
    text = done.stdout.decode()
    for claim in answer["claims"]:
        use = "to win" if claim["use"] == "win" else f"{claim['use']} {claim['set']}"
        if not any(line.split()[:1] == [claim["tile"]] and f"  {use} " in line
                   for line in text.splitlines()):
            return f"no row for {claim['tile']} {use}"
    return f"{screens.widest(text)} columns" if screens.widest(text) > 80 else ""


# ------------------------------------------------------------ exchanges

def exchange_checks(program):
    """One tile for one joker: what is gone and what is held change places."""
    path = program.lists / "closed.json"
    hand = answers.tiles("22B 22C R 5C 3D")
    words = ["--others", "5CJJ 33DJ"]
    answer = ask(program, "claim", path, *words, text_of(hand))
    yield "two jokers can be taken", "" if len(answer["exchanges"]) == 2 else str(answer)
    for exchange in answer["exchanges"]:
        tile = collections.Counter([exchange["tile"]])
        joker = collections.Counter("J")
        seen = answers.tiles("J J 5C 33D J") + tile - joker
        row = ask(program, "rank", path, "--seen", text_of(seen), text_of(hand - tile + joker))
        yield (f"{exchange['tile']} takes a joker",
               "" if row["nearest"] == exchange["away"] == answer["away"] - exchange["nearer"]
               else f"rank has {row['nearest']}")
    none = ask(program, "claim", program.lists / "skerry.json", "--others", "55CJ", "--any-size",
               text_of(hand))
    yield "no joker is taken where the list does not let it", str(none["exchanges"] or "")


def checks(program):
    followed = 0
    for path in program.all_lists():
        for hand in waiting_hands(program, path, HANDS):
            answer = ask(program, "claim", path, text_of(hand))
            followed += len(answer["claims"])
            yield f"{path.stem}: {text_of(hand)}", (answer_problem(program, path, hand, answer)
                                                    or text_problem(program, path, hand, answer))
    yield "there were claims", "" if followed > 10 else f"{followed}"
    yield from exchange_checks(program)
