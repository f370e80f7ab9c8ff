"""Text into trees that know where every value stands."""

from specreg.source.merge import merge, substitute
from specreg.source.place import Place
from specreg.source.problem import Problem, Unreadable, nearest_word, quoted
from specreg.source.tree import (
    Entry,
    Mapping,
    Node,
    Origin,
    Path,
    Scalar,
    Sequence,
    at,
    behind,
    key_place_of,
    mapping,
    place_of,
    places,
    plain,
    scalar,
    sequence,
    walk,
    where,
)
from specreg.source.yaml import Limits, read_yaml

__all__ = [
    "Entry",
    "Limits",
    "Mapping",
    "Node",
    "Origin",
    "Path",
    "Place",
    "Problem",
    "Scalar",
    "Sequence",
    "Unreadable",
    "at",
    "behind",
    "key_place_of",
    "mapping",
    "merge",
    "nearest_word",
    "place_of",
    "places",
    "plain",
    "quoted",
    "read_yaml",
    "scalar",
    "sequence",
    "substitute",
    "walk",
    "where",
]
