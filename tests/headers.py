"""The public headers as one text: the chapters of the interface in their order."""
import re


def chapters(root):
    """nearhand.h, then the headers that it includes."""
    door = root / "lib/nearhand.h"
    return [door] + [root / "lib" / name
                     for name in re.findall(r'^#include "(.*)"', door.read_text(), re.M)]


def text(root):
    return "\n".join(path.read_text() for path in chapters(root))
