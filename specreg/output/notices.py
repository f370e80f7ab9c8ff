"""A notice for the owner of each van that a recall reaches, in Markdown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from specreg.register.recall import Reached, Recall, State

SETTLED = (State.done, State.ruled_out)
"""Owners of these vans need no notice."""

NAMES = {
    "owner": "Owner",
    "contact": "Contact",
    "plate": "Registration",
    "vin": "Vehicle identification number",
}

UNSURE = (
    "From what was recorded it cannot be told whether your van is one of them. Please treat it as if it "
    "were, until somebody has looked at the number on the part."
)


def notice_name(recall: Recall, build: str) -> str:
    """Return the name of the file of one van's notice."""
    return f"{recall.name}-{build}.md"


def to_notify(reached: Sequence[Reached]) -> Mapping[str, list[Reached]]:
    """Return by build what a notice must name; vans that are dealt with are left out."""
    found: dict[str, list[Reached]] = {}
    for one in reached:
        if one.state not in SETTLED:
            found.setdefault(one.hit.build, []).append(one)
    return found


def notice(recall: Recall, things: Sequence[Reached], identity: Mapping[str, str], workshop: str) -> str:
    """Return one van's notice; `identity` is what the private file says of its owner."""
    van = things[0].hit.van or things[0].hit.build
    lines = [f"# Recall: {_plain(recall.title)}", "", f"For your van: {_plain(van)}", ""]
    lines += [f"{NAMES[key]}: {_plain(text)}  " for key, text in identity.items()] + [""] * bool(identity)
    lines += [f"Called back by: {_plain(recall.source)}, {recall.date}", "", "## What is concerned", ""]
    lines += [_thing(one) for one in things]
    if any(one.unsure for one in things):
        lines += ["", UNSURE]
    lines += ["", "## What to do", "", _plain(recall.do), ""]
    lines += [f"From: {_plain(workshop)}", ""] if workshop else []
    return "\n".join([*lines, "Received on: ____________________  Signature: ____________________", ""])


def _thing(one: Reached) -> str:
    words = one.hit.words
    name = words["title"] or words["label"] or words["id"].replace("-", " ")
    said = [words["designation"], words["maker"], words["model"]]
    said += [f"number {words['serial']}"] if words["serial"] else []
    said += [f"fitted {words['fitted']}"] if words["fitted"] else []
    said += [f"in {words['zone'].replace('-', ' ')}"] if words["zone"] else []
    doubt = f" (not sure: {one.unsure})" if one.unsure else ""
    return f"- {_plain(', '.join([name, *filter(None, said)]))}{_plain(doubt)}"


def _plain(text: str) -> str:
    """Return a text on one line in which no character starts a link, an image, emphasis or HTML."""
    line = " ".join(text.split())
    return "".join(f"\\{one}" if one in "\\`*_[]<>#|!" else one for one in line)
