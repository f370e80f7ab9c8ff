"""What the program knows: its rules, the keys of a spec, and the words."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.completing import BuildPath, RuleName
from specreg.cli.options import INTO_FILE, ON, StageName, example, formats
from specreg.cli.terminal import (
    FINE,
    UNREADABLE,
    complain,
    deliver,
    nearest,
    note,
    say,
    stop,
    style_of,
    writing,
)

if TYPE_CHECKING:
    from datetime import date

    from specreg.model.build import Stage
    from specreg.rules.pack import Pack, Rule
    from specreg.rules.proof import Proof

MARK = ".rules-by-specreg"
"""The file by which a folder of rule pages is known as one of ours."""


@click.command(
    short_help="List the rules, print one, or try one of your own.",
    epilog=example(
        "specreg rules --about dc/positive-run-protected\n"
        "specreg rules --try builds/rules/water/pump-quiet.md builds/heron\n"
        "specreg rules --format markdown --into rule-pages"
    ),
)
@click.argument("build", type=BuildPath(), metavar="[BUILD]", required=False)
@formats("text", "json", "markdown")
@INTO_FILE
@click.option("--about", metavar="RULE", type=RuleName(), help="Print one rule's document.")
@click.option("--register", type=BuildPath(), metavar="REGISTER", help="Add the rules of this register.")
@click.option(
    "--try",
    "tried",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Put the rule in FILE to BUILD and show what it read of each target.",
)
@click.option("--for", "stage", type=StageName(), metavar="STAGE", help="With --try: judge as if then.")
@ON
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="With --format markdown: a page for each rule.",
)
def rules(
    build: Path | None,
    form: str,
    output: Path | None,
    about: str | None,
    register: Path | None,
    tried: Path | None,
    stage: Stage | None,
    on: date | None,
    into: Path | None,
) -> None:
    """List every rule with its level, its sources and how its authors know.

    With --try, show what a rule that you are writing makes of a build: each target's answer, the figures that
    it read, and whether the fragments in its document prove it. Ends with 2 while the document has a mistake.
    """
    from specreg.output.as_json import dumps, rules_data
    from specreg.output.rule_reference import rule_page
    from specreg.output.rules import rule_text, rules_text
    from specreg.workshop import load, rules_for

    if tried is not None:
        _try(tried, build, stage, on, output)
    if build is not None:
        stop("a build is given to try a rule on it", None, "name the rule's file with --try")
    pack, problems = rules_for(load(register) if register else None)
    complain(problems)
    if about is not None:
        pack = _one(pack, about)
    if into is not None:
        _write_pages(pack, form, into)
    elif form == "json":
        deliver(dumps(rules_data(pack, problems)), output)
    elif form == "markdown":
        deliver("\n".join(map(rule_page, pack.rules)), output)
    elif about is not None:
        deliver(rule_text(pack.rules[0], style_of(output)), output)
    else:
        deliver(rules_text(pack, style_of(output)), output)
    sys.exit(UNREADABLE if problems else FINE)


def _one(pack: Pack, about: str) -> Pack:
    from specreg.rules.pack import Pack

    known = pack.by_identity()
    if about not in known:
        stop(f"there is no rule {about}", nearest(about, known), "`specreg rules` lists them")
    return Pack((known[about],))


def _write_pages(pack: Pack, form: str, into: Path) -> None:
    from specreg.output.rule_reference import rule_pages
    from specreg.writing import write_folder

    if form != "markdown":
        stop("pages of rules are written as Markdown", None, "add --format markdown")
    with writing():
        write_folder(into, {**rule_pages(pack), MARK: ""}, MARK)
    say(f"{len(pack.rules)} rules: begin with {into / 'index.md'}\n")


def _try(file: Path, build: Path | None, stage: Stage | None, on: date | None, output: Path | None) -> None:
    """Show what a rule makes of a build, and end."""
    from specreg.facts.engine import Facts
    from specreg.output.tried import proofs_text, tried_text
    from specreg.rules.attempt import attempts
    from specreg.workshop import load

    if build is None:
        stop("a rule is tried on a build", None, "name one after the rule's file")
    rule = _read_rule(file)
    opened = load(build)
    complain(opened.problems)
    style = style_of(output)
    texts = [tried_text(rule, facts, attempts(rule, facts, stage), style) for facts in
             (Facts(one, on) for one in opened.sound)]  # fmt: skip
    proofs, sound = _proofs(rule, file)
    deliver("\n".join([*texts, proofs_text(rule, proofs, style)]), output)
    sys.exit(UNREADABLE if opened.problems or not sound else FINE)


def _read_rule(file: Path) -> Rule:
    import specreg.facts.all  # noqa: F401 - registers every fact
    from specreg.rules.pack import load_rule

    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is not UTF-8"
        stop(f"{file} cannot be read: {reason}", None, "name a rule's document")
    path = file.absolute()
    rule, problems = load_rule(text, f"{path.parent.name}/{path.stem}", file.as_posix())
    complain(problems)
    if rule is None:
        note("nothing is tried while the rule has mistakes")
        sys.exit(UNREADABLE)
    return rule


def _proofs(rule: Rule, file: Path) -> tuple[list[Proof], bool]:
    from specreg import shipped
    from specreg.rules.proof import prove, proving_base

    pack = file.absolute().parent.parent
    base, problems = proving_base((pack, shipped.rules_folder()), rule.header.system.value)
    complain(problems)
    if base is None:
        return [], not problems
    proofs = list(prove(rule, base))
    return proofs, not problems and not any(proof.complaint for proof in proofs)


@click.command(
    short_help="JSON Schema of a spec; every key and word.",
    epilog=example(
        "specreg schema --output spec.schema.json\n"
        "specreg schema --format markdown --output spec.md\n"
        "specreg schema --of glossary"
    ),
)
@click.option(
    "--of",
    "subject",
    type=click.Choice(
        ["spec", "parts", "assembly", "glossary", "inspect", "figures", "rules", "find", "compare"]
    ),
    default="spec",
    show_default=True,
    help="A file of a build, of the catalogue, an assembly, the words, or the JSON that a command prints.",
)
@formats("json", "markdown")
@INTO_FILE
def schema(subject: str, form: str, output: Path | None) -> None:
    """Print the JSON Schema of a spec, for editors, or of a command's JSON.

    As Markdown: every kind of component and every run with its keys, units, examples and readers, made from
    the model itself. The glossary is always Markdown.
    """
    from specreg.output.as_json import dumps
    from specreg.output.glossary import glossary
    from specreg.output.json_schema import assembly_schema, output_schema, parts_schema, spec_schema
    from specreg.output.spec_reference import spec_reference

    if subject == "glossary":
        deliver(glossary(), output)
    elif form == "markdown" and subject != "spec":
        stop("the reference in Markdown is that of a spec", None, "leave --of out")
    elif form == "markdown":
        deliver(spec_reference(), output)
    else:
        of_files = {"spec": spec_schema, "parts": parts_schema, "assembly": assembly_schema}
        deliver(dumps(of_files[subject]() if subject in of_files else output_schema(subject)), output)
