# SPDX-License-Identifier: GPL-3.0-or-later
"""Recipes spoilt in one place: every key of a recipe with values that nobody would write there.

A mutant is the recipe's own text with one value (a scalar, by its place in PyYAML's node tree) put in for another.
"""
import random

import yaml

VALUES = [
    # nothing, and other sorts of things
    "", "~", "null", "[]", "{}", "[1, 2, 3]", "{a: 1}", "[[[[]]]]", "yes", "no", "- x", "? y", "*a", "&a 1", "!!str x", "|", ">", "\"\"", "''", "\"", "'", "[", "{", "}", ",", ":", "#", "%", "@", "`",
    # figures
    "0", "-0", "1", "-1", "-100", "0 mm", "-3 mm", "0.0000001 mm", "1e9 mm", "1e400", "nan", "inf", "-inf mm", "0x10 mm", "1/0 in", "999999999999999999999 mm", "9" * 400, "0." + "0" * 300 + "1 mm", "3 mm mm",
    "3,5 mm", "3..5 mm", "5' 6-1/2\"", "10 ga", "3 parsec", "100 m", "10 m", "50 %", "-50 %", "100000 %", "45", "360 deg", "1e5 deg", "25 o'clock", "2026-03-14", "12:30", "0b11", "1_000", "\uff11\uff10 mm", "\u221210 mm",
    # texts
    "x" * 5000, "\"\\e[2J\\e[31m\"", "\"\\u202egnp\"", "\"\\u200b\"", "\"\\0\"", "\"\\x9b2J\"", "\"a\\nb\"", "\u0430\u0435\u043e", "../../../etc/passwd", "/dev/zero", "~/x", "C:\\x", "{measured}", "%s%n", "</title>", "\U0001f6a2", "holes", "top",
    "itself", "2nd A of nobody",
]


def _scalars(node):
    if isinstance(node, yaml.ScalarNode):
        yield node
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _scalars(item)
            if not isinstance(item, yaml.ScalarNode):
                yield item
    elif isinstance(node, yaml.MappingNode):
        for _, item in node.value:
            yield from _scalars(item)
            if not isinstance(item, yaml.ScalarNode):
                yield item


def places(text):
    """(start, end) of each value, in characters."""
    return sorted({(node.start_mark.index, node.end_mark.index) for node in _scalars(yaml.compose(text))})


def mutants(texts, seed, n):
    """@n of them, each (name, text): of every recipe in turn a place and a value by chance."""
    rng, names = random.Random(seed), sorted(texts)
    found = {name: places(texts[name]) for name in names}
    for i in range(n):
        name = names[i % len(names)]
        start, end = rng.choice(found[name])
        yield name, texts[name][:start] + rng.choice(VALUES) + texts[name][end:].lstrip(" ") if start == end else texts[name][:start] + rng.choice(VALUES) + texts[name][end:]
