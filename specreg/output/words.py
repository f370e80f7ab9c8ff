"""The sentences that every report of a check shares, whatever its form."""

from __future__ import annotations

from specreg import __version__
from specreg.model.field import Reader, reader_of
from specreg.model.records import Concession, SignOff
from specreg.report import Counts, Report
from specreg.rules.result import Answer, Result

TITLE = "Check of the written specification"

LIMITS = (
    "This is a check of what is written. A written specification cannot prove workmanship: whether a joint "
    "is tight or an anchorage holds is for the people named above to see on the vehicle."
)

MOST_WANTED = 10
"""How many missing fields are named at the stage of enquiry."""


def heading(report: Report) -> str:
    """Return the line that says which van."""
    header = report.build.header
    return f"{TITLE}: {header.build}, {header.title}"


def circumstances(report: Report) -> str:
    """Return for which stage, on which day and by which rules the spec was judged."""
    header = report.build.header
    parts = [f"Stage: {header.stage.value}"]
    if report.stage is not header.stage:
        parts.append(f"judged for {report.stage.value}")
    parts.append(f"on {report.on.isoformat()}" if report.on else "on no stated day")
    if header.revision:
        parts.append(f"revision {header.revision}")
    if header.jurisdictions:
        parts.append("in " + ", ".join(word.value.upper() for word in header.jurisdictions))
    return f"{', '.join(parts)}. {plural(len(report.pack.rules), 'rule')} of specreg {__version__}."


def plural(number: int, noun: str) -> str:
    """Return `1 rule` or `2 rules`."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def tally(counts: Counts) -> str:
    """Return the counts in words, those that are nothing left out."""
    parts = (
        (counts.errors, f"{_verb(counts.errors, 'fails', 'fail')} at level error"),
        (counts.warnings, f"{_verb(counts.warnings, 'fails', 'fail')} at level warning"),
        (counts.notes, f"{_verb(counts.notes, 'fails', 'fail')} at level note"),
        (counts.conceded, f"{_verb(counts.conceded, 'fails', 'fail')} under a concession"),
        (counts.open, _verb(counts.open, "is open", "are open")),
        (counts.review, _verb(counts.review, "is for review", "are for review")),
        (counts.answered, _verb(counts.answered, "is answered by a sign-off", "are answered by sign-offs")),
        (counts.passes, _verb(counts.passes, "passes", "pass")),
        (counts.not_applicable, _verb(counts.not_applicable, "does not apply", "do not apply")),
    )
    return ", ".join(f"{number} {words}" for number, words in parts if number) or "nothing was judged"


def _verb(number: int, one: str, more: str) -> str:
    return one if number == 1 else more


def summary(report: Report) -> str:
    """Return the whole result in a sentence."""
    return f"Of {plural(len(report.results), 'answer')}, {tally(report.counts)}."


def answer_words(result: Result) -> str:
    """Return the answer and its level in words."""
    if result.answer is Answer.fails:
        reason = f", {result.reason}" if result.reason else ""
        conceded = ", under a concession" if result.concession else ""
        return f"fails ({result.level.value}{reason}){conceded}"
    if result.answer is Answer.review:
        return "answered" if result.sign_off else "for review"
    return OTHERS[result.answer]


OTHERS = {Answer.open: "open", Answer.passes: "passes", Answer.not_applicable: "does not apply"}


def statement(result: Result) -> str:
    """Return what a result says, with its case and jurisdiction."""
    if result.answer is Answer.not_applicable:
        text = f"{result.title}: {result.reason}"
    elif result.answer is Answer.passes or result.missing:
        about = f"{result.subject_name}: " if result.subject else ""
        text = f"{about}{result.title}" + (f": {result.message}" if result.message else "")
    else:
        text = result.message or result.title
    within = [part for part in (result.case, (result.jurisdiction or "").upper()) if part]
    return f"{text} [{', '.join(within)}]" if within else text


def sign_off_words(sign_off: SignOff, reader: Reader = Reader.workshop) -> str:
    """Return who answered, when and by which paper, as far as a reader may know."""

    def seen(field: str, before: str = "") -> str:
        value = getattr(sign_off, field)
        return f"{before}{value}" if value and reader.may_read(reader_of(SignOff, field)) else ""

    who = [sign_off.by or "a person whose role is not stated", seen("name"), seen("licence", "licence ")]
    papers = [seen("reference", "reference "), seen("certificate", "certificate ")]
    day = sign_off.date.isoformat() if sign_off.date else "on no stated day"
    return "answered by " + ", ".join(part for part in (*who, day, *papers) if part)


def concession_words(concession: Concession) -> str:
    """Return why, by whom and until when something is released in spite of a finding."""
    outside = ", competent and not of the workshop" if concession.outside else ""
    granted = f" on {concession.date.isoformat()}" if concession.date else ""
    until = f", until {concession.until.isoformat()}" if concession.until else ", with no end"
    return f"{concession.reason}; granted by {concession.granted_by}{outside}{granted}{until}"
