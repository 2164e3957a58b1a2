"""Files as somebody would write them who means harm: each kind is a function of a random source."""

from __future__ import annotations

import io
import json
import random
import zipfile
from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeAlias

Files: TypeAlias = dict[str, bytes]  # what to lay down, by path
LETTERS = "abcdefhijkn"  # symbols without a meaning of their own
NASTY = "<zzq onload=zz()>&amp;]]> #panic() $x$ `c` *b* [l](javascript:zz)"
SHORT = "<zzq on=z>"
HIDDEN = "\u202e\u2066\u200b\u00ad\ufeff\u3164\ufe0f\u2800\ue000\U000e0041"


# --- problems ---------------------------------------------------------------------------------


def problem(
    relations: list[str],
    ask: str = "x0",
    given: str = "abc",
    *,
    holds: tuple[str, ...] = (),
    values: int = 3,
    scenes: int = 1,
    questions: int = 1,
    more: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """A problem without diagrams: pure numbers, linked by relations."""
    names = sorted({*given, ask, *(f"x{at}" for at in range(8) if any(f"x{at}" in each for each in relations))})
    draw = {"draw": {"from": 1, "to": values, "step": 1}, "plausible": {"from": 0.001, "to": 1000}}
    return {
        "id": "a-stranger",
        "version": 1,
        "title": "A stranger's problem",
        "family": "kinematics",
        "level": "algebra",
        "licence": "CC-BY-4.0",
        "objectives": ["kinematics.speed"],
        "motion": {"plane": "horizontal"},
        "relations": [{"equation": each, "because": "so it is"} for each in relations],
        **({"holds": [{"that": each, "because": "so it is"} for each in holds]} if holds else {}),
        "quantities": {name: {"means": f"number {name}", "unit": "1", **draw} for name in names},
        "scenes": {
            f"scene-{at}": {"story": "At the fair {a load} goes round.", "words": {"load": "a cart"}}
            for at in range(scenes)
        },
        "questions": {
            f"question-{at}": {
                "title": "How large it is",
                "ask": ask,
                "given": list(given),
                "stem": f"With {' '.join('{' + each + '}' for each in given)}, how large is it?",
            }
            for at in range(questions)
        },
        **(more or {}),
    }


def written(data: Any) -> bytes:
    """The data as YAML, of which JSON is a part."""
    return json.dumps(data, ensure_ascii=False, indent=1).encode()


def systems(chance: random.Random) -> dict[str, Any]:
    """Coupled relations on which elimination grows without end."""
    size, power = chance.randint(3, 8), chance.randint(1, 3)
    unknowns = [f"x{at}" for at in range(size)]

    def dense(_: int) -> str:
        terms = []
        for _ in range(5):
            factors = chance.sample([*unknowns, "a", "b", "c"], 3)
            terms.append("*".join(f"{each}**{chance.randint(1, power)}" for each in factors))
        return f"{' + '.join(terms)} = 1"

    def quotient(at: int) -> str:
        one, two, three = (unknowns[(at + step) % size] for step in (1, 2, 3))
        return f"{unknowns[at]}*({one} + a*{two} + b) = c + {three}*{one}/(a + {two})"

    def linear(_: int) -> str:
        terms = (f"{chance.choice('abc')}**{chance.randint(1, 6)}*{each}" for each in unknowns)
        return f"{' + '.join(terms)} = {chance.choice('abc')}"

    def nested(at: int) -> str:
        return f"{unknowns[at]} = sqrt(a + sqrt(b + sqrt(c + {unknowns[(at + 1) % size]})))"

    make = chance.choice((dense, quotient, linear, nested))
    return problem([make(at) for at in range(size)])


def grids(chance: random.Random) -> dict[str, Any]:
    """Many combinations of draws, of which none or next to none is a variant."""
    given = LETTERS[: chance.randint(6, 10)]
    holds = (f"{' + '.join(given)} <= {len(given)}",)
    return problem([f"x0 = {'*'.join(given)}"], given=given, holds=holds, values=15, scenes=12, questions=24)


def mistakes(chance: random.Random) -> dict[str, Any]:
    """As many mistakes of its own as a problem may have, each of which has to be solved."""
    edits: list[dict[str, Any]] = [{"answer": f"{at}*x"} for at in range(2, 40)]
    edits += [{"limit": f"a**{at % 6 + 1}*x1 = b*x2**2 + {at}"} for at in range(40)]
    told = {"thinking": "I think so.", "feedback": "Look again.", "source": "common practice, no source"}
    own = {f"own-{at}": {**told, "edit": edit} for at, edit in enumerate(edits)}
    size = chance.randint(3, 4)
    relations = [f"a*x{at} + b*x{at + 1} = c + x0" for at in range(size)]
    return problem([*relations, f"x{size} = a + b"], questions=6, more={"mistakes": own})


def formulas(chance: random.Random) -> dict[str, Any]:
    """Formulas at the edge of the grammar, and beyond it."""

    def formula(depth: int) -> str:
        if depth == 0:
            return chance.choice(("a", "b", "c", "2", "1e30", "0", "1e-30", "9" * 39, "pi"))
        left, right = formula(depth - 1), formula(depth - 1)
        ways = (
            f"({left})**{chance.choice(('6', '(1/6)', '-6', '9**9**9', '99999999999'))}",
            f"sqrt({left} + sqrt({right}))",
            f"({left})*({right})",
            f"({left})/({right})",
            f"{chance.choice(('acos', 'atan', 'asin', 'sin', '__import__', 'eval'))}({left})",
            f"(({left}) - ({right}))",
        )
        return chance.choice(ways)

    return problem([f"x0 = {formula(chance.randint(1, 4))}" for _ in range(chance.randint(1, 3))])


def with_markup(data: dict[str, Any]) -> dict[str, Any]:
    """The problem with markup of every kind at the end of each of its texts, as much as has room."""
    long = ("story", "stem", "caution", "because", "thinking", "feedback", "source", "do", "predict")
    list(texts(data, lambda key, text: f"{text} {NASTY if key in long else SHORT}"))
    return data


def texts(
    data: Any, put: Callable[[str, str], str], path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Each text that people read in a problem, changed by ``put(key, text)`` in its place; yields the paths."""
    read = {"title", "caution", "because", "means", "story", "name", "by", "stem", "do", "predict", "place"}
    read |= {"thinking", "feedback", "source", "framework", "label"}
    for key, value in data.items() if isinstance(data, dict) else enumerate(data):
        here = (*path, str(key))
        if isinstance(value, dict | list):
            yield from texts(value, put, here)
        elif isinstance(value, str) and (key in read or path[-1:] in (("words",), ("without",))):
            data[key] = put(str(key), value)
            yield here, data[key]


# --- YAML -------------------------------------------------------------------------------------


def documents(chance: random.Random) -> bytes:
    """What a parser of YAML can be led into."""
    size = chance.randint(1_000, 60_000)
    kinds: tuple[Callable[[], bytes], ...] = (
        lambda: b"a: &a [x, x]\n" + b"".join(b"%c: &%c [*%c, *%c]\n" % (n, n, n - 1, n - 1) for n in range(98, 122)),
        lambda: b"[" * size,
        lambda: b"{a: " * size,
        lambda: b"- " * size,
        lambda: b"? " * size,
        lambda: b"id: '" + b"x" * 190_000 + b"'",
        lambda: b"".join(b"k%d: 1\n" % n for n in range(9_000)),
        lambda: b"id: a\n" * 9_000,
        lambda: b"id: !!python/object/apply:os.system ['echo zz']\n",
        lambda: b"id: !<tag:%1B[31m%0Azz> x\n",
        lambda: b"version: " + b"9" * 150_000,
        lambda: b"version: 1e99999\nalignment: [1e-99999, .inf, .nan, 0x10, 1_0, 190:20:30, 0b1, 2001-01-01]\n",
        lambda: b"questions: {" + b"q: {}, " * 5_000 + b"}",
        lambda: b"draw: [" + b"[1], " * 3_000 + b"]",
        lambda: bytes(chance.randrange(256) for _ in range(size // 20)),
        lambda: b"\xff\xfe" + "id: x".encode("utf-16-le"),
        lambda: "".join(chance.choice("[]{}:,-?!&*|>'\"%@` \n\tabc0.#") for _ in range(size // 20)).encode(),
        lambda: b"x" * 1_200_000,
    )
    return chance.choice(kinds)()


# --- JSON, CSV, XML, zip ----------------------------------------------------------------------


def manifests(chance: random.Random) -> bytes:
    """What a reader of JSON can be led into."""
    size = chance.randint(1_000, 200_000)
    kinds: tuple[Callable[[], str], ...] = (
        lambda: "[" * size + "]" * size,
        lambda: '{"a":' * size + "1" + "}" * size,
        lambda: '{"seed": ' + "9" * size + "}",
        lambda: '{"gravity": 1e999999999, "seed": NaN}',
        lambda: "{" + ",".join(f'"k{n}": {{}}' for n in range(size)) + "}",
        lambda: '{"forms": [' + ",".join(['{"form": 1}'] * (size // 10)) + "]}",
        lambda: json.dumps({"title": "\x1b[31m" + HIDDEN, "forms": []}),
    )
    return chance.choice(kinds)().encode()


def results(chance: random.Random) -> Files:
    """Results that nobody ever gave: tables with formulas and without ends, XML with entities, zips with ways out."""
    head = b"candidate,item,response,score"
    bomb = b'<!DOCTYPE a [<!ENTITY a "zz">' + b"".join(
        b'<!ENTITY %c "%s">' % (n, b"&%c;" % (n - 1) * 10) for n in range(98, 110)
    ) + b"]><assessmentResult>&m;</assessmentResult>"  # fmt: skip
    outside = b'<!DOCTYPE a [<!ENTITY a SYSTEM "file:///etc/hostname">]><assessmentResult>&a;</assessmentResult>'
    kinds: tuple[Callable[[], Files], ...] = (
        lambda: {"r.csv": head + b"\n=cmd|' /C zz'!A0,@SUM(1),+1,-2\n\x00,\x00,\x00,\x00\n"},
        lambda: {"r.csv": head + b"," + b"x" * 300_000 + b"\nA,b,c,1,2\n"},
        lambda: {"r.csv": head + b'\nA,b,"' + b"x" * 300_000},
        lambda: {"r.csv": head + b"".join(b",c%d" % n for n in range(20_000)) + b"\n"},
        lambda: {"r.csv": head + b"\nA,b,c,1e99999\n" * 500},
        lambda: {"r.xml": bomb},
        lambda: {"r.xml": outside},
        lambda: {"r.xml": b"<a>" * 100_000},
        lambda: {"r.zip": zipped(chance)},
    )
    return chance.choice(kinds)()


def zipped(chance: random.Random) -> bytes:
    """A zip file with names that lead out, and members that grow."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(
            "imsmanifest.xml", chance.choice((b"<manifest>" * 50_000, b"<!DOCTYPE a []><a/>", b"\x00", b""))
        )
        for name in ("../../zz.xml", "/etc/zz.xml", "a\nb\x1b[31m.xml", "CON.xml", "x" * 5_000, "-rf.xml", "zz.csv"):
            archive.writestr(name, b"0" * chance.choice((10, 100_000_000)))
    data = file.getvalue()
    return data if chance.random() < 0.7 else data[: chance.randrange(len(data))]
