# SPDX-License-Identifier: GPL-3.0-or-later
"""A second, small reader of RS-274/NGC, written from the report alone (NISTIR 6556, chapter 3 and table 8): it shares
nothing with src/program and is deliberately slow and plain. It reads sound programs only."""
import math
import re

import numpy as np

FUNCTIONS = {
    "abs": abs, "acos": lambda x: math.degrees(math.acos(x)), "asin": lambda x: math.degrees(math.asin(x)),
    "cos": lambda x: math.cos(math.radians(x)), "exp": math.exp, "fix": math.floor, "fup": math.ceil, "ln": math.log,
    "round": lambda x: math.copysign(math.floor(abs(x) + 0.5), x), "sin": lambda x: math.sin(math.radians(x)),
    "sqrt": math.sqrt, "tan": lambda x: math.tan(math.radians(x)),
}
LEVELS = [{"**": lambda a, b: a ** b},
          {"*": lambda a, b: a * b, "/": lambda a, b: a / b, "mod": lambda a, b: a - abs(b) * math.floor(a / abs(b))},
          {"+": lambda a, b: a + b, "-": lambda a, b: a - b, "or": lambda a, b: float(bool(a) or bool(b)),
           "xor": lambda a, b: float(bool(a) != bool(b)), "and": lambda a, b: float(bool(a) and bool(b))}]
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")


class Line:
    """One line without blanks and comments, in small letters."""

    def __init__(self, text, parameters):
        self.text, self.at, self.parameters = text, 0, parameters

    def take(self, what):
        if self.text.startswith(what, self.at):
            self.at += len(what)
            return True
        return False

    def value(self):
        if self.take("["):
            return self.bracket()
        if self.take("#"):
            return self.parameters[round(self.value())]
        if self.take("atan["):
            y = self.bracket()
            assert self.take("/[")
            return math.degrees(math.atan2(y, self.bracket()))
        for name, function in FUNCTIONS.items():
            if self.take(name + "["):
                return function(self.bracket())
        found = NUMBER.match(self.text, self.at)
        self.at = found.end()
        return float(found.group())

    def bracket(self):
        """All of it as a list, then level by level, from the left."""
        items = [self.value()]
        while not self.take("]"):
            sign = next(s for s in ("**", "*", "/", "mod", "+", "-", "or", "xor", "and") if self.take(s))
            items += [sign, self.value()]
        for level in LEVELS:
            done = [items[0]]
            for sign, right in zip(items[1::2], items[2::2]):
                if sign in level:
                    done[-1] = level[sign](done[-1], right)
                else:
                    done += [sign, right]
            items = done
        return items[0]


class Move:
    def __init__(self, kind, line, lit, a, b, plane=0, centre=None, sweep=0.0, minutes=0.0):
        self.kind, self.line, self.lit, self.a, self.b = kind, line, lit, a, b
        self.plane, self.centre, self.sweep, self.minutes = plane, centre, sweep, minutes

    def points(self, gap):
        """Seen from above, within `gap` of the true curve; a spiral where both ends aren't on one circle."""
        if self.kind != "round":
            return [self.a[:2], self.b[:2]]
        assert self.plane == 0
        r0, r1 = math.dist(self.a[:2], self.centre), math.dist(self.b[:2], self.centre)
        step = 2 * math.acos(max(0.0, 1 - gap / max(r0, r1)))
        n = max(2, math.ceil(abs(self.sweep) / step))
        start = math.atan2(self.a[1] - self.centre[1], self.a[0] - self.centre[0])
        inner = [(self.centre[0] + r * math.cos(t), self.centre[1] + r * math.sin(t))
                 for r, t in zip(np.linspace(r0, r1, n + 1), np.linspace(start, start + self.sweep, n + 1))]
        return [self.a[:2], *inner[1:-1], self.b[:2]]


def read(text):
    """The moves of `text`, in mm, machine's frame."""
    parameters, moves = {}, []
    unit = feed = None
    motion, plane, incremental, lit, inverse, system = None, 0, False, False, False, 0
    at, shift, kept = [0.0] * 6, [0.0] * 6, [0.0] * 6
    origins = [[0.0] * 6 for _ in range(9)]
    percents = 0
    for number, raw in enumerate(text.splitlines(), 1):
        if raw.strip() == "%":
            percents += 1
            if percents == 2:
                break
            continue
        line = Line(re.sub(r"[ \t]", "", re.sub(r"\([^)]*\)", "", raw)).lower(), parameters)
        words, gs, ms, later = {}, [], [], []
        while line.at < len(line.text):
            if line.take("#"):
                which = round(line.value())
                assert line.take("=")
                later.append((which, line.value()))
                continue
            letter = line.text[line.at]
            line.at += 1
            value = line.value()
            if letter == "g":
                gs.append(round(value * 10))
            elif letter == "m":
                ms.append(round(value))
            else:
                words[letter] = value
        parameters.update(later)
        axes = {"xyzabc".index(k): v for k, v in words.items() if k in "xyzabc"}
        if 930 in gs or 940 in gs:
            inverse = 930 in gs
        feed = words.get("f", feed)
        if 6 in ms:
            lit = False
        for m in ms:
            lit = True if m in (3, 4) else False if m == 5 else lit
        if 40 in gs:
            moves.append(Move("wait", number, lit, tuple(at), tuple(at), minutes=words["p"] / 60))
        plane = next((g // 10 - 17 for g in gs if g in (170, 180, 190)), plane)
        unit = 25.4 if 200 in gs else 1.0 if 210 in gs else unit
        system = next((g // 10 - 54 if g <= 590 else g - 585 for g in gs if 540 <= g <= 593), system)
        incremental = 910 in gs or (incremental and 900 not in gs)
        scale = [unit] * 3 + [1] * 3
        origin = origins[system]
        if 100 in gs:
            for axis, v in axes.items():
                origins[round(words["p"]) - 1][axis] = v * scale[axis]
            axes = {}
        elif 920 in gs:
            for axis in range(6):
                called = axes[axis] * scale[axis] if axis in axes else at[axis] - origin[axis] - shift[axis]
                shift[axis] = at[axis] - origin[axis] - called
            kept, axes = list(shift), {}
        elif 921 in gs:
            shift, kept = [0.0] * 6, [0.0] * 6
        elif 922 in gs:
            shift = [0.0] * 6
        elif 923 in gs:
            shift = list(kept)
        motion = next((g for g in gs if g in (0, 10, 20, 30, 800)), motion)
        if axes:
            to = list(at)
            for axis, v in axes.items():
                by = v * scale[axis]
                to[axis] = by if 530 in gs else to[axis] + by if incremental else origin[axis] + shift[axis] + by
            moves.append(moved(motion, number, lit, at, to, plane, words, unit, inverse, feed))
            at = to
        if 2 in ms or 30 in ms:
            break
    return moves


def moved(motion, number, lit, at, to, plane, words, unit, inverse, feed):
    if motion == 0:
        return Move("travel", number, lit, tuple(at), tuple(to))
    first, second, i, j = [(0, 1, "i", "j"), (2, 0, "k", "i"), (1, 2, "j", "k")][plane]
    a, b = (at[first], at[second]), (to[first], to[second])
    third = to[3 - first - second] - at[3 - first - second]
    if motion == 10:
        move = Move("line", number, lit, tuple(at), tuple(to))
        length = math.dist(at[:3], to[:3])
    else:
        if "r" in words:
            centre = by_radius(a, b, words["r"] * unit, motion == 30)
        else:
            centre = (a[0] + words.get(i, 0) * unit, a[1] + words.get(j, 0) * unit)
        start = math.atan2(a[1] - centre[1], a[0] - centre[0])
        turn = (math.atan2(b[1] - centre[1], b[0] - centre[0]) - start) % (2 * math.pi)
        same = math.dist(a, b) < 1e-7
        sweep = 2 * math.pi if same else turn
        if motion == 20:
            sweep = -2 * math.pi if same else turn - 2 * math.pi
        move = Move("round", number, lit, tuple(at), tuple(to), plane, centre, sweep)
        length = math.hypot(math.dist(a, centre) * sweep, third)
    move.minutes = 1 / feed if inverse else length / (feed * unit)
    return move


def by_radius(a, b, r, left):
    """The centre from which the arc goes at most half round when r > 0."""
    half = math.dist(a, b) / 2
    away = math.sqrt(max(0.0, r * r - half * half))
    nx, ny = -(b[1] - a[1]) / (2 * half), (b[0] - a[0]) / (2 * half)
    side = 1 if (r > 0) == left else -1
    return ((a[0] + b[0]) / 2 + side * away * nx, (a[1] + b[1]) / 2 + side * away * ny)
