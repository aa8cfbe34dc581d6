# SPDX-License-Identifier: GPL-3.0-or-later
"""The recipe against general-purpose readers: PyYAML's composer and Python's json for values and
places, python3-jsonschema (draft 2020-12) for the generated schemas.

Random cases are seeded. A YAML reader of the standard's 1.1 counts U+0085, U+2028 and U+2029 as line
breaks (YAML 1.1, 5.4), editors do not: those are left out of the comparison of places.
"""
import json
import pathlib
import random
import subprocess

import pytest
import yaml

from conftest import HOLDFAST, TOP, holdfast

jsonschema = pytest.importorskip("jsonschema")

DUMP = HOLDFAST.parent / "tests" / "tools" / "recipe_dump"
CORPUS = sorted((TOP / "tests" / "corpus" / "edit").iterdir())
EXAMPLES = sorted((TOP / "examples").glob("*.yaml"))
STARTERS = ("name", "plate", "house-number", "badge", "stake", "gate-arch", "initial", "monogram")


def dump(how, files):
    out = []
    for i in range(0, len(files), 200):
        done = subprocess.run([str(DUMP), how, *map(str, files[i:i + 200])], capture_output=True, text=True, check=True, timeout=600)
        out += [json.loads(line)[0] for line in done.stdout.splitlines()]
    assert len(out) == len(files)
    return out


# --- PyYAML reads the same tree with the same places ---


def of_pyyaml(node):
    """The same shape as recipe_dump's tree."""
    place = [node.start_mark.line + 1, node.start_mark.column + 1]
    if isinstance(node, yaml.ScalarNode):
        return place + [node.value, "text"]
    if isinstance(node, yaml.SequenceNode):
        return place + [[of_pyyaml(item) for item in node.value], "list"]
    return place + [[of_pyyaml(part) for pair in node.value for part in pair], "table"]


def placed(tree):
    """A value that is not there has no place to agree on (`{a: , b}`)."""
    line, column, value, kind = tree
    if kind == "text":
        return [line, column, value, kind] if value else ["", kind]
    return [line, column, [placed(part) for part in value], kind]


def compose(text):
    return of_pyyaml(yaml.compose(text, Loader=yaml.SafeLoader))


def test_places_of_the_corpus():
    # PyYAML counts a byte order mark as a column of line 1 and does not know surrogate pairs
    files = [f for f in CORPUS + EXAMPLES if b"\\ud83d" not in f.read_bytes()]
    assert len(files) >= 20
    compared = 0
    for file, tree in zip(files, dump("tree", files)):
        text = file.read_bytes().decode("utf-8-sig")
        try:
            other = compose(text)
        except yaml.YAMLError:  # a tab behind "key:", which libyaml takes and PyYAML does not
            assert "\t" in text, file.name
            continue
        compared += 1
        assert placed(tree) == placed(other), file.name
    assert compared >= len(files) - 4


WORDS = ["Saltmarsh Boats", "3/16\"", "5' 6-1/2\"", "11 o'clock", "É Ñ Å Š", "سلام", "海辺", "🚢", "No", "~", "", "a: b", "x # y", "- z",
         "{k}", "[l]", "line\nbreak", "tab\there", " lead", "trail ", "'", "\"", "\\", "1200 mm", "12", "null", "#", "a,b", "?", "|", ">", "%", "@", "!", "&", "*"]


def random_value(rng, depth=0):
    pick = rng.random()
    if depth > 4 or pick < 0.5:
        return rng.choice(WORDS)
    if pick < 0.75:
        return [random_value(rng, depth + 1) for _ in range(rng.randrange(5))]
    return {rng.choice(WORDS[:20]) + str(i): random_value(rng, depth + 1) for i in range(rng.randrange(5))}


def test_places_of_random_yaml(tmp_path):
    rng = random.Random(20261125)
    files, texts = [], []
    for i in range(400):
        value = {"holdfast": "1", "k": random_value(rng), "l": random_value(rng)}
        text = yaml.safe_dump(value, default_flow_style=rng.choice([True, False, None]), allow_unicode=rng.random() < 0.8,
                              default_style=rng.choice([None, None, "'", '"', "|", ">"]), indent=rng.choice([2, 4, 7]), width=rng.choice([40, 80, 1000]),
                              explicit_start=rng.random() < 0.3, line_break=rng.choice(["\n", "\r\n", "\r"]))
        if "? " in text:  # keys written that way are refused
            continue
        if "!!" in text:
            continue
        files.append(tmp_path / f"{i}.yaml")
        files[-1].write_bytes(text.encode())
        texts.append(text)
    assert len(files) > 250
    for text, tree in zip(texts, dump("tree", files)):
        assert placed(tree) == placed(compose(text)), text


# --- Python's json reads the same values ---


def values(tree):
    _, _, value, kind = tree
    if kind == "text":
        return value
    if kind == "list":
        return [values(item) for item in value]
    return {key[2]: values(item) for key, item in zip(value[::2], value[1::2])}


def test_random_json(tmp_path):
    rng = random.Random(1125)
    files, wanted = [], []
    for i in range(400):
        value = {"k": random_value(rng), "l": random_value(rng)}
        text = json.dumps(value, ensure_ascii=rng.random() < 0.7, indent=rng.choice([None, 2, "\t"]), separators=rng.choice([None, (",", ":")]))
        assert json.loads(text) == value
        files.append(tmp_path / f"{i}.json")
        files[-1].write_text(text)
        wanted.append(value)
    for file, value, tree in zip(files, wanted, dump("tree", files)):
        assert isinstance(tree, list), (tree, file.read_text())
        assert values(tree) == value, file.read_text()


def test_places_behind_surrogate_pairs(tmp_path):
    """Each marker's place is where the text has it, however many escapes stand before it."""
    rng = random.Random(5)
    files, texts = [], []
    for i in range(60):
        pieces = ["\\ud83d\\ude00", "é", "🚢", "\\u00e9", "\\\\", "x", "\\\"", "\\n"]
        body = ",\n ".join("\"k%d\": [\"%s\", \"MARK%d\"]" % (j, "".join(rng.choice(pieces) for _ in range(rng.randrange(12))), j) for j in range(8))
        texts.append("{ " + body + "}")
        files.append(tmp_path / f"{i}.json")
        files[-1].write_text(texts[-1])
    for text, tree in zip(texts, dump("tree", files)):
        lines = text.split("\n")
        for j, item in enumerate(tree[2][1::2]):
            line, column, value, _ = item[2][1]
            assert value == f"MARK{j}"
            assert lines[line - 1][column - 1:].startswith(f'"MARK{j}"')


# --- the generated schemas ---


class Plain(yaml.SafeLoader):
    """YAML 1.2's core schema: no dates, no yes/no, no base 60."""


Plain.yaml_implicit_resolvers = {}
Plain.add_implicit_resolver("tag:yaml.org,2002:bool", __import__("re").compile(r"^(true|false)$"), list("tf"))
Plain.add_implicit_resolver("tag:yaml.org,2002:null", __import__("re").compile(r"^(~|null|)$"), ["~", "n", ""])
Plain.add_implicit_resolver("tag:yaml.org,2002:int", __import__("re").compile(r"^[-+]?(0|[1-9][0-9]*)$"), list("-+0123456789"))
Plain.add_implicit_resolver("tag:yaml.org,2002:float", __import__("re").compile(r"^[-+]?[0-9]+\.[0-9]+$"), list("-+0123456789"))


@pytest.fixture(scope="module")
def schema():
    made = json.loads((TOP / "docs" / "schema" / "recipe.schema.json").read_text())
    jsonschema.Draft202012Validator.check_schema(made)
    return jsonschema.Draft202012Validator(made)


def load(text):
    return yaml.load(text, Loader=Plain)


def test_printed_schemas_are_the_documented_ones():
    for option, name in (("--schema", "recipe"), ("--shop-schema", "shop")):
        printed = holdfast("recipe", option)
        assert printed.code == 0 if hasattr(printed, "code") else printed.returncode == 0
        assert printed.stdout == (TOP / "docs" / "schema" / f"{name}.schema.json").read_text()


def test_examples_and_starters(schema):
    texts = {f.name: f.read_text() for f in EXAMPLES if f.name != "shop.yaml"}
    for kind in STARTERS:
        done = holdfast("new", kind)
        assert done.returncode == 0, kind
        texts[kind] = done.stdout
    assert len(texts) >= 20
    for name, text in texts.items():
        assert not [e.message for e in schema.iter_errors(load(text))], name


@pytest.mark.parametrize("kind", STARTERS)
def test_starters_are_whole(kind, tmp_path):
    """Whoever starts from one starts from metal that holds."""
    file = tmp_path / f"{kind}.yaml"
    file.write_text(holdfast("new", kind).stdout)
    done = holdfast("check", file)
    assert done.returncode == 0, done.stdout


def test_shop_schema():
    made = json.loads((TOP / "docs" / "schema" / "shop.schema.json").read_text())
    jsonschema.Draft202012Validator.check_schema(made)
    check = jsonschema.Draft202012Validator(made)
    page = (TOP / "docs" / "recipe.md").read_text()
    shop = next(block for block in page.split("```")[1::2] if "chart:" in block).removeprefix("yaml\n")
    assert not list(check.iter_errors(load(shop)))
    assert list(check.iter_errors(load(shop.replace("kerf: 1.1 mm", "kerf: 1.1"))))


GOOD = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
entries:
  - ring: {name: outer, outer: 600 mm, width: 20 mm}
  - ring: {name: inner, outer: 400 mm, width: 20 mm}
  - words: {text: Boats, font: Lobster Two, band: [inner, outer], at: top, height: 5 cm}
"""


@pytest.mark.parametrize("old, new", [
    ("holdfast: 1", "holdfast: 2"),
    ("mild steel", "mild steal"),
    ("3 mm", "3"),
    ("600 mm", "600"),
    ("600 mm", "600 px"),
    ("600 mm", "1,5 mm"),
    ("at: top", "at: topp"),
    ("at: top", "at: 13 o'clock"),
    ("words: {", "wrods: {"),
    ("height: 5 cm", "hight: 5 cm"),
    ("font: Lobster Two, ", ""),
    ("font: Lobster Two", "font: {family: Lobster Two, weight: 3}"),
    ("font: Lobster Two", "font: {file: ../x.ttf}"),
    ("text: Boats", "text: {a: b}"),
    ("height: 5 cm", "height: 5 cm, letters: curved"),
    ("height: 5 cm", "height: 5 cm, give way: [spacing, spacing]"),
])
def test_schema_and_reader_refuse_alike(schema, tmp_path, old, new):
    assert not list(schema.iter_errors(load(GOOD)))
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    file = tmp_path / "bad.yaml"
    file.write_text(text)
    assert list(schema.iter_errors(load(text))), new
    assert dump("read", [file])[0].startswith("f:"), new


LENGTHS = ["3 mm", "3mm", "1-1/2 in", "1½ in", "3/16\"", "5' 6-1/2\"", "5'-6\"", "5 ft 6 in", "-3 mm", "−3 mm", ".5 m", "10 ga", "60 %", "0.1 mm", "10 m", "11 m",
           "140", "1,5 mm", "3 MM", "1e3 mm", "5' 13\"", "top", "11 o'clock", "30 deg", "-30°", "left end", "centre", "yes", "no", "joined", "joined pair by pair",
           "12", "5", "0.4", "40 %", "rigid", "bent", "outward", "metal", "opening", "outer", "inner", "Boats"]


NAMES = ["outer", "inner"]
POOLS = {"length": LENGTHS[:11] + ["50 mm", "80 mm"], "text": ["A", "outer", 14, "No"], "yes-or-no": [True, False, "yes", "no"], "length-or-share": LENGTHS[:13],
         "spacing": ["joined", "joined pair by pair", "10 %", "2 mm"], "quantity": ["30 deg", "-30°"], "place": ["top", "11 o'clock", "30 deg", "centre", "left end"]}


def test_what_the_reader_takes_the_schema_takes(schema, tmp_path):
    """Random recipes of right and wrong values: whatever is read without a mistake is valid."""
    rng = random.Random(7)
    printed = json.loads((TOP / "docs" / "schema" / "recipe.schema.json").read_text())
    kinds = printed["properties"]["entries"]["items"]["properties"]
    files, texts = [], []
    for i in range(3000):
        kind = rng.choice(sorted(kinds))
        fields = printed["$defs"][kind.replace(" ", "-")]["properties"]
        needed = printed["$defs"][kind.replace(" ", "-")].get("required", [])
        keys = list(needed) + [k for k in rng.sample(sorted(fields), 2) if k not in needed]

        def value(key):
            field = fields[key]
            pool = field.get("enum") or POOLS.get(field.get("$ref", "").rpartition("/")[2]) or (NAMES if key in ("band", "around") else LENGTHS)
            pick = rng.choice(pool if rng.random() < 0.95 else LENGTHS)
            return [pick, rng.choice(pool)] if key == "band" or rng.random() < 0.1 else pick

        entry = {kind: {key: value(key) for key in keys}}
        recipe = {"holdfast": 1, "metal": {"kind": "mild steel", "thickness": rng.choice(["3 mm", "10 ga", "1/8 in"])},
                  "entries": [{"ring": {"name": "outer", "outer": "1 m", "width": "2 cm"}}, {"ring": {"name": "inner", "outer": "60 cm", "width": "2 cm"}}, entry]}
        texts.append(recipe)
        files.append(tmp_path / f"{i}.json")
        files[-1].write_text(json.dumps(recipe, ensure_ascii=False))
    taken = 0
    for recipe, message in zip(texts, dump("read", files)):
        if message is None:
            taken += 1
            assert not [e.message for e in schema.iter_errors(recipe)], recipe
    assert taken > 100
