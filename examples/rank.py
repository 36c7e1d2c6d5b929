#!/usr/bin/env python3
"""Ranks a hand from Python, without a build step: ctypes calls the shared
library as it is.

    NEARHAND_LIBRARY=build/lib/libnearhand.so examples/rank.py LIST.json "2468B 246C 33D EEW R Wh"

The structures below are those of the library's headers, field by field, in their
order. No question is asked (NULL), so each gets its defaults.
"""
import ctypes
import os
import sys

KINDS = 36
TEXT_SIZE = 1024  # NH_TILES_TEXT_SIZE
ROWS = 3


class Tiles(ctypes.Structure):
    _fields_ = [("count", ctypes.c_uint8 * KINDS)]


class Error(ctypes.Structure):
    _fields_ = [("status", ctypes.c_int), ("column", ctypes.c_uint32), ("text", ctypes.c_char * 256)]


class Natural(ctypes.Structure):
    _fields_ = [("limb", ctypes.c_uint64 * 3)]


class Ranked(ctypes.Structure):
    _fields_ = [("pattern", ctypes.c_uint32), ("away", ctypes.c_uint8),
                ("prevailing", ctypes.c_uint8), ("seat", ctypes.c_uint8), ("target", Tiles),
                ("keep", Tiles), ("need", Tiles), ("spare", Tiles), ("joked", Tiles),
                ("chance", ctypes.c_double), ("completing", Natural)]


class Ranking(ctypes.Structure):
    _fields_ = [("live", ctypes.c_size_t), ("rows", ctypes.c_size_t),
                ("within_one", ctypes.c_size_t), ("draws", Natural), ("unseen", ctypes.c_uint32),
                ("nearest", ctypes.c_uint8)]


class Pattern(ctypes.Structure):
    _fields_ = [("name", ctypes.c_char_p), ("section", ctypes.c_char_p), ("ref", ctypes.c_char_p),
                ("note", ctypes.c_char_p), ("points", ctypes.c_double),
                ("has_points", ctypes.c_bool), ("concealed", ctypes.c_bool)]


def open_library():
    """The library, with the types that ctypes does not take from the arguments:
    a pointer or a size that is not told would be cut to an int."""
    library = ctypes.CDLL(os.environ.get("NEARHAND_LIBRARY", "libnearhand.so.1"))
    pointer, size = ctypes.c_void_p, ctypes.c_size_t
    library.nh_list_load.argtypes = [ctypes.c_char_p, pointer, pointer, pointer]
    library.nh_list_free.argtypes = [pointer]
    library.nh_list_pattern.argtypes = [pointer, size]
    library.nh_list_pattern.restype = ctypes.POINTER(Pattern)
    library.nh_workspace_new.argtypes = [pointer, pointer, pointer]
    library.nh_workspace_free.argtypes = [pointer]
    library.nh_hand_parse.argtypes = [pointer, ctypes.c_char_p, size, pointer, pointer]
    library.nh_tiles_format.argtypes = [pointer, ctypes.c_int, ctypes.c_char_p, size]
    library.nh_tiles_format.restype = size
    library.nh_rank.argtypes = [pointer] * 4 + [size, pointer, pointer]
    library.nh_status_text.restype = ctypes.c_char_p
    return library


class List:
    """A list and a workspace for it; `with` frees both."""

    def __init__(self, library, path):
        self.library, self.list, self.workspace = library, ctypes.c_void_p(), ctypes.c_void_p()
        status = library.nh_list_load(os.fsencode(path), None, ctypes.byref(self.list), None)
        if status == 0:
            status = library.nh_workspace_new(self.list, None, ctypes.byref(self.workspace))
        if status != 0:
            self.__exit__()
            raise ValueError(f"{path}: {library.nh_status_text(status).decode()}")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.library.nh_workspace_free(self.workspace)
        self.library.nh_list_free(self.list)

    def read(self, text):
        hand, error, data = Tiles(), Error(), text.encode()
        if self.library.nh_hand_parse(self.list, data, len(data), ctypes.byref(hand),
                                      ctypes.byref(error)) != 0:
            raise ValueError(error.text.decode())
        return hand

    def rank(self, hand):
        rows, ranking, error = (Ranked * ROWS)(), Ranking(), Error()
        if self.library.nh_rank(self.workspace, ctypes.byref(hand), None, rows, ROWS,
                                ctypes.byref(ranking), ctypes.byref(error)) != 0:
            raise ValueError(error.text.decode())
        return rows[:ranking.rows]

    def name(self, row):
        return self.library.nh_list_pattern(self.list, row.pattern).contents.name.decode()

    def format(self, tiles):
        text = ctypes.create_string_buffer(TEXT_SIZE)
        self.library.nh_tiles_format(ctypes.byref(tiles), 0, text, TEXT_SIZE)
        return text.value.decode()


def main():
    if len(sys.argv) != 3:
        sys.exit("usage: rank.py LIST.json HAND")
    try:
        with List(open_library(), sys.argv[1]) as patterns:
            for row in patterns.rank(patterns.read(sys.argv[2])):
                need = f", needs {patterns.format(row.need)}" if row.away else ""
                print(f"{row.away} away  {patterns.name(row)}{need}")
    except (OSError, ValueError) as error:
        sys.exit(str(error))


if __name__ == "__main__":
    main()
