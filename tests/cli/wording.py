"""Patterns in words: a table of groups and the words for them; and for random patterns,
that every shape and tile of theirs is named and an example of each alternative shown.
The rules of play of a list in words."""
import json
import pathlib
import random
import re
import tempfile

SIZES = {"single": 1, "pair": 2, "pung": 3, "kong": 4, "quint": 5, "sextet": 6, "chow": 3, "set": 3}
SET = " A set is a pung or a chow."
JOKERS = {"flowers": 8, "jokers": 8}

# Groups, the words, what else the pattern says, and the tiles of the list.
CASES = [
    ([{"pung": 3, "suit": "bam"}], "A pung of threes in bams."),
    ([{"pair": 6, "suit": "x"}], "A pair of sixes in one suit."),
    ([{"single": 1, "suit": "x"}, {"single": "flower"}], "A one in one suit, a flower."),
    ([{"pair": "any"}], "Any pair."),
    ([{"single": "any"}, {"pair": "any"}], "Any tile, any pair."),
    ([{"set": "any", "times": 4}, {"pair": "any"}], "Four sets, any pair." + SET),
    ([{"set": "simple", "times": 4}, {"pair": "suited"}],
     "Four sets of twos to eights, a pair of suited tiles." + SET),
    ([{"chow": "suited", "times": 3, "distinct": True}], "Three different chows."),
    ([{"chow": "terminal"}], "A chow from 1 or 9."),
    ([{"chow": [1, 7], "suit": "any", "times": 2}], "Two chows from 1 or 7, each in any suit."),
    ([{"chow": 4, "suit": "x"}, {"chow": 4, "suit": "y"}], "Two chows from 4 to 6 in two suits."),
    ([{"run": 2, "length": 6, "suit": "crak"}], "A run from 2 to 7 in craks."),
    ([{"run": "n", "length": 5, "suit": "x"}, {"run": "n", "length": 5, "suit": "y"}],
     "Two runs of five from one number in two suits."),
    ([{"chow": "n", "suit": "x"}, {"chow": "n", "suit": "y"}, {"chow": "n", "suit": "z"},
      {"pung": ["wind", "dragon"]}, {"pair": "any"}],
     "Three chows from one number in three suits, a pung of winds or dragons, any pair."),
    ([{"chow": "n", "suit": "x"}, {"chow": "n+2", "suit": "x"}, {"chow": "n+4", "suit": "x"}],
     "Chows from one number and the numbers 2 and 4 higher in one suit."),
    ([{"pung": "n", "suit": "x"}, {"pung": "n-2", "suit": "y"}, {"pung": "10-n", "suit": "z"}],
     "A pung of one number in one suit, a pung of the number 2 lower in a second suit, a pung of "
     "the number that makes 10 with it in the third suit."),
    ([{"pung": "n+1", "suit": "x"}, {"pair": "n", "suit": "x"}],
     "A pung of one number in one suit, a pair of the number 1 lower in the same suit."),
    ([{"pung": "10-n", "suit": "x"}, {"pair": "n", "suit": "x"}, {"pair": "9-n", "suit": "x"}],
     "A pung of one number in one suit, pairs of the number that makes 10 with it and the number "
     "1 lower in the same suit."),
    ([{"pung": "n", "suit": "x"}, {"pung": "m", "suit": "x"}, {"chow": "n", "suit": "y"},
      {"chow": "m+1", "suit": "y"}],
     "Pungs of one number and another number in one suit, chows from the first number and the "
     "number 1 above the second in a second suit."),
    ([{"kong": "a", "suit": "x"}, {"kong": "b", "suit": "y"}, {"kong": "a+b", "suit": "z"}],
     "A kong of number a in one suit, a kong of number b in a second suit, a kong of number a+b "
     "in the third suit. a and b are different numbers."),
    ([{"pung": "n", "suit": "x"}, {"pung": "10-n", "suit": "x"}],
     "Pungs of one number from 1 to 4 and the number that makes 10 with it in one suit.",
     {"ranks": {"n": [1, 4]}}),
    ([{"run": "n", "length": 5, "suit": "x"}], "A run of five from one number in one suit.",
     {"ranks": {"n": [1, 5]}}),
    ([{"pair": "n", "suit": "x"}, {"kong": "n", "suit": "y"}],
     "A pair of one number (1, 3 or 9) in one suit, a kong of the same number in a second suit.",
     {"letters": {"n": [1, 3, 9]}}),
    ([{"pung": "w"}, {"pung": "v"}, {"single": "w"}],
     "Pungs of one wind and another wind, a single tile of the first wind.",
     {"letters": {"w": "wind", "v": "wind"}}),
    ([{"pung": "d"}, {"pung": "w"}, {"kong": "v"}, {"single": "d"}, {"single": "w"}],
     "Pungs of one dragon and one wind, a kong of another wind, single tiles of the same dragon "
     "and the first wind.", {"letters": {"d": "dragon", "w": "wind", "v": "wind"}}),
    ([{"pung": "h"}, {"pair": "w"}, {"pair": "v"}, {"pair": "u"}, {"single": "u"}],
     "A pung of one wind or dragon, pairs of another wind, another wind and a third wind, a "
     "single tile of the third wind.",
     {"letters": {"h": "honour", "w": "wind", "v": "wind", "u": "wind"}}),
    ([{"single": 1, "suit": "x"}, {"single": 9, "suit": "x"}, {"single": "white"},
      {"single": 8, "suit": "x"}],
     "A one and a nine in one suit, a white dragon, an eight in the same suit."),
    ([{"single": "east"}, {"single": "south"}, {"single": "red"}, {"single": "green"}],
     "An east and a south wind, a red and a green dragon."),
    ([{"single": "n", "suit": "x"}, {"single": 8, "suit": "x"}, {"single": "flower"},
      {"single": "flower"}],
     "A single tile of one number in one suit, an eight in the same suit, a flower, a flower."),
    ([{"single": "prevailing"}, {"single": "seat"}, {"single": "n", "suit": "x"},
      {"single": "n+1", "suit": "x"}],
     "Single tiles of the prevailing wind and the seat wind, single tiles of one number and the "
     "number 1 higher in one suit."),
    ([{"pair": 1, "suit": "x"}, {"pair": 1, "suit": "x"}],
     "A pair of ones in one suit, a pair of ones in the same suit."),
    ([{"pung": "h"}, {"pair": "h"}],
     "A pung of one wind or dragon (east wind or red dragon), a pair of the same wind or dragon.",
     {"letters": {"h": ["east", "red"]}}, JOKERS, " No jokers in pairs."),
    ([{"pair": "n", "suit": "any", "times": 3, "distinct": True}],
     "Three pairs of one number in three suits."),
    ([{"pair": "orphan", "times": 7, "distinct": True}],
     "Seven different pairs of ones, nines, winds or dragons."),
    ([{"single": "wind", "times": 4, "distinct": True}], "One of each wind."),
    ([{"pair": "dragon", "times": 3, "distinct": True}], "A pair of each dragon."),
    ([{"single": "orphan", "times": 13, "distinct": True}],
     "One of each one, nine, wind and dragon."),
    ([{"single": [1, 4, 7], "suit": "x", "times": 3, "distinct": True},
      {"pair": [2, 5, 8], "suit": "y", "times": 2, "distinct": True}],
     "One each of ones, fours and sevens in one suit, two different pairs of twos, fives or "
     "eights in a second suit."),
    ([{"pair": "east"}, {"pair": "south"}, {"pung": "red"}, {"pung": "green"}, {"pung": "white"}],
     "Pairs of east and south winds, pungs of red, green and white dragons."),
    ([{"pung": "prevailing"}, {"pair": "seat"}],
     "A pung of the prevailing wind, a pair of the seat wind."),
    ([{"single": "prevailing"}, {"pair": "any"}], "The prevailing wind, any pair."),
    ([{"kong": "dragon", "suit": "x"}, {"run": "n", "length": 3, "suit": "y"},
      {"run": "n", "length": 3, "suit": "z"}],
     "A kong of the dragon of one suit, two runs of three from one number in the other two "
     "suits."),
    ([{"pair": "n", "suit": "x"}, {"pair": "n", "suit": "y"}, {"pung": "dragon", "suit": "x"},
      {"pung": "dragon", "suit": "y"}],
     "Two pairs of one number in two suits, pungs of the dragons of both suits."),
    ([{"single": "dragon", "suit": "crak"}, {"pair": "any"}], "The dragon of craks, any pair."),
    ([{"pung": "suited", "suit": "x"}, {"pair": "any", "suit": "x"}],
     "Any pung in one suit, any pair in the same suit."),
    ([{"pung": "terminal", "suit": "dot"}], "A pung of ones or nines in dots."),
    ([{"one_of": [{"pung": "wind"}, {"pung": "dragon"}]}, {"pair": "any"}],
     "Either a pung of winds or a pung of dragons, any pair."),
    ([{"one_of": [[{"pung": "red"}, {"pair": "green"}], [{"pair": "red"}, {"pung": "green"}]]}],
     "One of these (a pung of red dragons and a pair of green dragons; a pair of red dragons and "
     "a pung of green dragons)."),
    ([{"one_of": [{"chow": "suited"}, {"one_of": [{"pung": "wind"}, {"pung": "dragon"}]},
                  [{"pair": "terminal"}, {"single": "flower"}]], "times": 4, "distinct": True}],
     "Four of these, all different (a chow; a pung of winds; a pung of dragons; a pair of ones or "
     "nines and a flower)."),
    ([{"one_of": [{"single": [1, 4, 7], "suit": "x"}, {"single": [2, 5, 8], "suit": "y"}],
       "times": 5, "distinct": True}],
     "Five of these, all different (a one, four or seven in one suit; a two, five or eight in a "
     "second suit)."),
    ([{"one_of": [[{"kong": "n", "suit": "x"}, {"kong": "n+1", "suit": "y"}],
                  [{"quint": "n", "suit": "x"}, {"pung": "n+1", "suit": "y"}]]}],
     "One of these (a kong of one number in one suit and a kong of the number 1 higher in a "
     "second suit; a quint of one number in one suit and a pung of the number 1 higher in a "
     "second suit).", {}, JOKERS, ""),
    ([{"kong": "wind", "times": 2, "distinct": True}, {"pair": "any"}],
     "Two different kongs of winds, any pair. 10 tiles: each kong draws one more.", {},
     {"hand": 8}),
    ([{"sextet": "suited"}, {"pung": "honour"}], "A sextet of suited tiles, a pung of winds or "
     "dragons.", {}, JOKERS, ""),
    ([{"pair": "any", "times": 7}], "Seven pairs.", {}, JOKERS, " No jokers."),
    ([{"single": "flower"}, {"pung": "any"}, {"set": "any"}, {"run": 1, "length": 4, "suit": "x"}],
     "A flower, any pung, a set, a run from 1 to 4 in one suit.", {}, JOKERS,
     " No jokers in single tiles, chows or runs." + SET),
    ([{"pair": "any", "times": 7}], "Seven pairs. In exactly one suit. No winds or dragons.",
     {"limits": {"suits": 1, "honours": "none"}}),
    ([{"pair": "any", "times": 7}],
     "Seven pairs. In one or two suits. At least one wind or dragon.",
     {"limits": {"suits": [1, 2], "honours": "some"}}),
    ([{"pair": "any", "times": 7}],
     "Seven pairs. No suited tiles, and at least one wind or dragon.",
     {"limits": {"honours": "only"}}),
    ([{"pair": "any", "times": 7}],
     "Seven pairs. In at least two suits. Suited tiles are from 3 to 7 only.",
     {"limits": {"suits": [2, 3], "ranks": [3, 4, 5, 6, 7]}}),
    ([{"pair": "any", "times": 4}], "Four pairs. In at most two suits. Made of 135B 246C EW alone.",
     {"limits": {"suits": [0, 2], "tiles": "135B 246C EW"}}),
    ([{"pair": "any", "times": 7}],
     "Seven pairs. At most 4 tiles are winds or dragons. At least 2 tiles are ones or nines. "
     "No twos to eights.",
     {"limits": {"least": {"terminal": 2}, "most": {"honour": 4, "simple": 0}}}),
]


def size_of(groups):
    total = 0
    for group in groups:
        shape = next(key for key in (*SIZES, "run", "one_of") if key in group)
        if shape == "one_of":
            first = group["one_of"][0]
            size = size_of(first if isinstance(first, list) else [first])
        else:
            size = group["length"] if shape == "run" else SIZES[shape]
        total += size * group.get("times", 1)
    return total


def described(program, folder, patterns, keys):
    """What `lists --pattern` says of each pattern, its lines joined."""
    path = pathlib.Path(folder) / "list.json"
    data = {"format": 1, "title": "T", "tiles": {"flowers": 8}, "patterns": patterns}
    data.update(keys)
    path.write_text(json.dumps(data))
    done = program.run("lists", str(path), "--pattern", "")
    return done, done.stdout.decode().split("\n\n")


def parts_of(text):
    """The words of a pattern, and the lines of its examples."""
    lines = text.strip().splitlines()[1:]
    end = next((i for i in range(1, len(lines)) if lines[i - 1].endswith(".")
                and lines[i].startswith(("for example ", "with "))), len(lines))
    return " ".join(lines[:end]), lines[end:]


def words_of(text):
    return parts_of(text)[0]


def case_checks(program, folder):
    for number, (groups, words, *more) in enumerate(CASES):
        pattern = {"name": "Ebb", "groups": groups, **(more[0] if more else {})}
        keys = {"hand": size_of(groups)}
        if len(more) > 1:
            keys.update(more[1] if "hand" in more[1] else {"tiles": more[1]})
        wanted = words + (more[2] if len(more) > 2 else "")
        done, texts = described(program, folder, [pattern], keys)
        given = words_of(texts[0]) if done.returncode == 0 else done.stderr.decode()
        yield f"words {number}: {wanted[:40]}", (
            "" if given == wanted else f"{json.dumps(groups)}\nwanted {wanted}\ngiven  {given}")


# ------------------------------------------------------------ random patterns

NAMED = ("east", "south", "west", "north", "red", "green", "white", "flower")
CLASSES = {"wind": "wind", "dragon": "dragon", "honour": "winds? or dragon",
           "terminal": "ones? or nine|each one and nine", "simple": "twos to eights|two to eight",
           "orphan": "nines?, wind"}
RANKS = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def random_group(depth):
    if depth > 0 and random.random() < 0.2:
        alternatives = [random_groups(depth - 1, 2) for _ in range(random.randint(1, 3))]
        size = size_of(alternatives[0])
        same = [groups for groups in alternatives if size_of(groups) == size]
        return {"one_of": [groups[0] if len(groups) == 1 else groups for groups in same],
                "times": 1}
    shape = random.choice(["single", "pair", "pung", "kong", "chow", "run", "set"])
    rows = shape in ("chow", "run")
    kind = random.choice(["class", "rank", "letter"] if rows else
                         ["class", "rank", "letter", "named"])
    group = {}
    if kind == "class":
        group[shape] = random.choice(["suited", "any"] if rows else [*CLASSES, "suited", "any"])
    elif kind == "rank":
        group[shape] = random.randint(1, 4)
    elif kind == "letter":
        group[shape] = random.choice(["n", "n+1", "n+2", "10-n", "m"])
    else:
        group[shape] = random.choice(NAMED)
    if kind in ("rank", "letter"):
        group["suit"] = random.choice(["x", "y", "z", "bam", "any"])
    if shape == "run":
        group["length"] = random.randint(2, 4)
    if random.random() < 0.2:
        group["times"] = 2
        group["distinct"] = random.random() < 0.5
    return group


def random_groups(depth, most):
    return [random_group(depth) for _ in range(random.randint(1, most))]


def expected_words(groups):
    """Patterns of the words that must be there."""
    for group in groups:
        if "one_of" in group:
            for alternative in group["one_of"]:
                yield from expected_words(alternative if isinstance(alternative, list)
                                          else [alternative])
            continue
        shape = next(key for key in (*SIZES, "run") if key in group)
        if shape != "single":
            yield rf"{shape}s?\b"
        tile = group[shape]
        if tile in NAMED:
            yield rf"\b{tile}"
        elif tile in CLASSES:
            yield CLASSES[tile]
        elif isinstance(tile, int):
            yield RANKS[tile] if shape not in ("chow", "run") else rf"from .*{tile}"
        elif tile not in ("suited", "any"):
            yield r"number"


def count_alternatives(groups):
    """Examples that are shown at most: one for each alternative that ends a way."""
    ways = 0
    for group in groups:
        for alternative in group.get("one_of", []):
            ways += count_alternatives(alternative if isinstance(alternative, list)
                                       else [alternative])
    return ways or 1


def random_checks(program, folder):
    described_patterns = 0
    for _ in range(150):
        groups = random_groups(2, 4)
        size = size_of(groups)
        if not 2 <= size <= 18:
            continue
        keys = {"hand": size, "tiles": {"flowers": 8, "jokers": random.choice([0, 8])}}
        done, texts = described(program, folder, [{"name": "Ebb", "groups": groups}], keys)
        if done.returncode == 2:  # no target, or letters that no rank fits
            continue
        described_patterns += 1
        words, examples = parts_of(texts[0])
        name = f"words of {json.dumps(groups)}"
        missing = [word for word in expected_words(groups) if not re.search(word, words, re.I)]
        shown = sum(line.startswith("for example ") or ": " in f"{line} " for line in examples)
        wide = max(map(len, texts[0].splitlines()))
        yield name, ("" if not missing and words[0].isupper() and words.endswith(".")
                     and 1 <= shown <= count_alternatives(groups) and wide <= 80
                     and done.returncode == 0 else f"missing {missing}: {texts[0]}")
    yield "random patterns were described", "" if described_patterns > 20 else "too few"


def long_checks(program, folder):
    """A pattern with more words than a line of text holds loses none of them."""
    many = {"one_of": [[{"pung": rank, "suit": "bam"}, {"pair": other, "suit": suit}]
                       for rank in range(1, 10) for other in range(1, 10)
                       for suit in ("crak", "dot")]}
    done, texts = described(program, folder, [{"name": "Ebb", "groups": [many]}], {"hand": 5})
    words = words_of(texts[0])
    yield "a long pattern", (
        "" if done.returncode == 0 and words.count("pung of") == 162 and words.count(";") == 161
        and texts[0].count("\nwith ") == 30 and texts[0].rstrip().endswith("(and more)")
        else texts[0])


# The rules of play that `lists` tells of a list, its lines joined.
RULES = {
    "club": "Pass 3 tiles right, across and left; if all agree, left, across and right. Then "
            "exchange up to 3 with the player across. Never pass flowers. Claim a discard to win, "
            "or for a pung, kong, quint or sextet.",
    "jokers": "Pass 3 tiles right, across and left; if all agree, left, across and right. Then "
              "exchange up to 3 with the player across. Never pass jokers. Claim a discard to "
              "win, or for a pung, kong, quint or sextet.",
    "traditional": "Pass 3 tiles right, across and left. Claim a discard to win, or for a pung, "
                   "kong or chow (only from your left).",
    "tests/lists/good/exchange.json":
        "Pass 2 tiles right and left; if all agree, across. Then exchange up to 2 with the player "
        "across. In the last pass of rounds 1 and 2 incoming tiles may go on unseen. Never pass "
        "jokers. Claim a discard to win, or for a pung, kong, quint or chow. In your turn, take a "
        "joker from the table for the tile that it stands for.",
    "tests/lists/good/no-passing.json":
        "No tiles are passed. Claim a discard to win, or for a pung or kong.",
}

# Rules that no list above has.
OTHER_RULES = [
    ({"charleston": {"tiles": 1, "rounds": [], "courtesy": 1, "keep": "EWF"}},
     "No passes. Then exchange up to 1 with the player across. Never pass flowers, jokers or EW."),
    ({"charleston": {"rounds": [["left"]], "keep": "F", "blind": [1]}},
     "Pass 3 tiles left. In the last pass of round 1 incoming tiles may go on unseen. Never pass "
     "flowers or jokers."),
    ({"play": {"claims": ["chow"]}}, "Claim a discard to win, or for a chow (only from your left)."),
    ({"play": {"claims": []}}, "Claim a discard only to win."),
]


def rules_of(program, path):
    """The lines between the note of a list and its patterns."""
    text = program.run("lists", str(path)).stdout.decode()
    start = re.search("^(Pass |No passes|No tiles are passed)", text, re.M)
    lines = text[start.start():text.index("\n\n")].splitlines() if start else [text]
    return " ".join(lines), max(map(len, lines))


def rules_checks(program, folder):
    for name, wanted in RULES.items():
        given, wide = rules_of(program, program.root / name if "/" in name else name)
        yield f"rules of {name}", "" if given == wanted and wide <= 80 else given
    path = pathlib.Path(folder) / "rules.json"
    for rules, wanted in OTHER_RULES:
        path.write_text(json.dumps({"format": 1, "title": "T", "hand": 5, **rules,
                                    "tiles": {"flowers": 4, "jokers": 4}, "patterns": [
                                        {"name": "Ebb", "groups": [{"pung": "any"},
                                                                   {"pair": "any"}]}]}))
        given, wide = rules_of(program, path)
        yield f"rules {json.dumps(rules)}", "" if wanted in given and wide <= 80 else given


def checks(program):
    with tempfile.TemporaryDirectory() as folder:
        yield from case_checks(program, folder)
        yield from random_checks(program, folder)
        yield from long_checks(program, folder)
        yield from rules_checks(program, folder)
