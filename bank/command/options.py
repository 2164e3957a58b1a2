"""Options that several commands share, and how their texts are read."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from decimal import Decimal, InvalidOperation
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem

from ..quantities.gravity import GRAVITY as USUAL
from ..questions.kinds import KINDS, kinds_of

if TYPE_CHECKING:
    from ...exporters.workers import Workers


LONGEST_TITLE = 200
MOST_VARIANTS = 100_000
KIND_HELP = (
    f"Kinds of questions: {', '.join(KINDS)}; or all. A question that is named by its id is asked as a number, unless "
    "this says otherwise."
)


def gravity_of(text: str) -> Decimal:
    """g as it was typed, with its digits; a usage error for what is no field strength."""
    try:
        number = Decimal(text)
    except InvalidOperation:
        raise click.BadParameter(f"'{text}' is no number; write for example 9.81") from None
    if not number.is_finite() or not Decimal("0.01") <= number <= 1000 or len(number.as_tuple().digits) > 6:
        raise click.BadParameter(f"'{text}' is not between 0.01 and 1000, with at most six digits")
    return number


def title_of(text: str) -> str:
    """A title that a candidate can read; a usage error for anything else."""
    if not text.strip() or not text.isprintable() or len(text) > LONGEST_TITLE:
        raise click.BadParameter(f"expected up to {LONGEST_TITLE} visible characters")
    return text


def kinds_named(_: click.Context, __: click.Parameter, text: str | None) -> str | None:
    """The names of kinds as they were typed. Raises UnknownNameError."""
    if text is not None:
        kinds_of(text)
    return text


def format_named(_: click.Context, __: click.Parameter, name: str) -> str:
    """The name of a format, or ``all``. Raises UnknownNameError, with all names."""
    from ... import exporters

    return name if name == "all" else exporters.known(name)


class FormatOption(click.Option):
    """An option whose help names the formats that are installed, and which a shell can complete."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        """The help, with the formats; they are looked up only where help is asked for."""
        from ... import exporters

        record = super().get_help_record(ctx)
        return record and (record[0], record[1].format(formats=", ".join(exporters.available())))

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The formats that begin like this."""
        from ... import exporters

        return [CompletionItem(each) for each in (*exporters.available(), "all") if each.startswith(incomplete)]


def complete_kinds(_: click.Context, __: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The kinds that a list of kinds can go on with."""
    begun, comma, last = incomplete.rpartition(",")
    return [CompletionItem(f"{begun}{comma}{each}") for each in (*KINDS, "all") if each.startswith(last)]


MANIFEST = click.option(
    "--manifest",
    type=click.Path(path_type=Path),
    metavar="FILE.json",
    show_default="none",
    help="Write there what 'results' needs to know.",
)


def kind_option(usual: str, text: str, default: str | None = None) -> Callable[[Any], Any]:
    """The option ``--kind``; ``usual`` is what help tells of its default."""
    return click.option(
        "--kind",
        "kind_names",
        metavar="KIND,...",
        help=text,
        default=default,
        show_default=usual,
        callback=kinds_named,
        shell_complete=complete_kinds,
    )


def options(*chosen: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """A decorator that adds several options, the first one first."""

    def add(function: Any) -> Any:
        for option in reversed(chosen):
            function = option(function)
        return function

    return add


BANK = click.option(
    "--bank",
    "bank_paths",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PATH",
    show_default="the shipped bank",
    help="Problem file or folder to use instead; 'shipped' means that bank; may be given more than once.",
)
FORCE = click.option("--force", is_flag=True, help="Replace a file of another kind, or an exam, that stands there.")
JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a script.")
GRAVITY = click.option(
    "--g", "gravity", type=gravity_of, metavar="NUMBER", default=str(USUAL), show_default=True, help="g in N/kg."
)
STYLE = options(
    click.option(
        "--spelling", type=click.Choice(["en-GB", "en-US"]), default="en-GB", show_default=True, help="Whose spelling."
    ),
    click.option(
        "--g-unit", type=click.Choice(["N/kg", "m/s2"]), default="N/kg", show_default=True, help="The unit of g."
    ),
    click.option(
        "--stem-picture",
        type=click.Choice(["sketch", "forces", "none"]),
        default="sketch",
        show_default=True,
        help="Above a question: the situation, its force diagram where that answers nothing, or no picture.",
    ),
)
SET = click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="SYMBOL=VALUE[UNIT]",
    show_default="none",
    help="A given, such as m=250g, r=0.85, q=1.6x10^-19C or m=m_e; may be repeated.",
)
SEED = click.option("--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Seed of the draw.")

TOLD = "yes in practice, never in an exam"
RULES = options(
    click.option(
        "--attempts",
        type=click.IntRange(0, 100),
        metavar="N",
        show_default="0 for practice, 1 for an exam",
        help="Attempts at each question, 0 for any number.",
    ),
    click.option("--hints/--no-hints", default=None, help="Hints that can be asked for.", show_default=TOLD),
    click.option("--feedback/--no-feedback", default=None, help="Feedback on each answer.", show_default=TOLD),
    click.option("--solution/--no-solution", default=None, help="The worked solution.", show_default=TOLD),
    click.option(
        "--shuffle/--no-shuffle",
        default=None,
        show_default="yes in an exam, no in practice",
        help="Questions, and options whose order means nothing, in another order for each candidate.",
    ),
    click.option(
        "--minutes",
        type=click.IntRange(0, 1440),
        metavar="N",
        show_default="no limit",
        help="Time for the whole pack, 0 for no limit.",
    ),
)


def kinds_from(text: str | None, usual: str = "all") -> dict[str, Any]:
    """The kinds of whole problems and of questions named by their id, as ``Settings`` takes them."""
    return {"kinds": kinds_of(text or usual), "named": kinds_of(text or "number")}


def appearance(function: Any) -> Any:
    """Adds the options of how questions look; the command gets them as one ``looks``, as ``Settings`` takes them."""

    @STYLE
    @wraps(function)
    def command(*names: Any, spelling: Any, g_unit: str, stem_picture: str, **rest: Any) -> Any:
        from ..item.house_style import HouseStyle

        style = HouseStyle(spelling, "m/s²" if g_unit == "m/s2" else "N/kg")
        return function(*names, looks={"style": style, "stem_picture": stem_picture}, **rest)

    return command


# --- of packs --------------------------------------------------------------------------------------

_SETTINGS = (
    click.option(
        "--variants",
        type=click.IntRange(1, MOST_VARIANTS),
        default=5,
        show_default=True,
        help="Variants of each question.",
    ),
    click.option("--for", "purpose", type=click.Choice(["practice", "exam"]), default="practice", show_default=True),
    click.option(
        "--title",
        type=title_of,
        metavar="TEXT",
        default="Circular motion",
        show_default=True,
        help="Title that the candidate sees.",
    ),
    kind_option("all", KIND_HELP),
    click.option("--every", is_flag=True, help="All derived questions, not one of each kind from a problem."),
    RULES,
    SEED,
    GRAVITY,
    appearance,
)
_RULES = ("attempts", "hints", "feedback", "solution", "shuffle", "minutes")
_ORDER = (
    click.option(
        "--format",
        "format_name",
        cls=FormatOption,
        metavar="NAME",
        default="qti-3.0",
        show_default=True,
        callback=format_named,
        help="Format of the pack: {formats}; or all, a pack in each, with a folder as --out.",
    ),
    click.option(
        "--math",
        "mathematics",
        type=click.Choice(["mathml", "html"]),
        default="mathml",
        show_default=True,
        help="How formulas are written, where the format takes both.",
    ),
    click.option(
        "--figures",
        type=click.Choice(["svg", "png"]),
        default="svg",
        show_default=True,
        help="How drawings are written.",
    ),
    click.option(
        "--numbers",
        type=click.Choice(["strings", "choice", "working"]),
        default="strings",
        show_default=True,
        help="A number where a format has no tolerance: the strings that are right, a choice, or its working by hand.",
    ),
    click.option(
        "--variants-as",
        "variants_as",
        type=click.Choice(["static", "table", "computed"]),
        default="static",
        show_default=True,
        help="An item for each variant; or template items, with keys in a table or computed on the platform.",
    ),
    click.option("--strict", is_flag=True, help="Refuse to leave out what a format can't carry."),
    click.option(
        "--workers",
        type=click.IntRange(1, 1024),
        metavar="N",
        show_default="one a core where a pack is long, else 1",
        help="Processes that share the work; 1 is this one alone.",
    ),
    click.option(
        "--scheduler",
        metavar="ADDRESS",
        show_default="none",
        help="Have the workers of a Dask cluster do it, as in tcp://HOST:8786.",
    ),
)


def settings(function: Any) -> Any:
    """Adds the options of what goes into a pack; the command gets them as one ``settings``."""

    @options(*_SETTINGS)
    @wraps(function)
    def command(*names: Any, kind_names: str | None, title: str, **rest: Any) -> Any:
        from ..item.sitting import sitting_for
        from ..questions.item_model import Settings

        rules = sitting_for(rest["purpose"], **{name: rest.pop(name) for name in _RULES})
        of_pack = {name: rest.pop(name) for name in ("purpose", "gravity", "variants", "seed", "every")}
        chosen = Settings(title, **kinds_from(kind_names), rules=rules, **rest.pop("looks"), **of_pack)
        return function(*names, settings=chosen, **rest)

    return command


def order(function: Any) -> Any:
    """Adds the options of how a pack is carried; the command gets them as one ``order``."""

    @options(*_ORDER)
    @wraps(function)
    def command(
        *names: Any,
        format_name: str,
        strict: bool,
        variants_as: Any,
        workers: int | None,
        scheduler: str | None,
        **rest: Any,
    ) -> Any:
        from ... import exporters
        from ...exporters.packages.delivery import Delivery
        from ...exporters.running.packing import Order

        of_delivery = {name: rest.pop(name) for name in ("mathematics", "figures", "numbers")}
        delivery = Delivery(variants=variants_as, **of_delivery)
        formats = exporters.available() if format_name == "all" else (format_name,)
        with _chosen_workers(workers, scheduler) as chosen:
            return function(*names, order=Order(formats, delivery, strict, chosen), **rest)

    return command


def _chosen_workers(workers: int | None, scheduler: str | None) -> AbstractContextManager[Workers | None]:
    """Who does the work; None where its size decides."""
    from ...exporters.workers import ALONE, Processes
    from ..errors import UsageError

    if scheduler is None:
        chosen: Workers | None = Processes(workers) if workers and workers > 1 else None
        return nullcontext(ALONE if workers == 1 else chosen)
    if workers is not None:
        raise UsageError("--scheduler has its own workers; leave --workers out")
    from ...exporters.workers.cluster import Cluster

    return Cluster(scheduler)
