"""All files of a workshop, read and checked: equipment, meters, limits, cautions, repairs, hazards, sequences, routes.

A file says by a key what it is (`sequence: continuity`), and is known by the name under which its folder keeps
it ("sequences/continuity.yaml", "resources/equipment/tb-mu1.yaml"). A workshop's own file with a shipped id wins; what
it takes the place of stays beside it, so that it can be held against that. Its figures and words print as its own.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, FileProblems
from benchapp.files.models import FileModel, build_model
from benchapp.files.reader import parse_document
from benchapp.files.shipped import is_shipped, shipped_folder
from benchapp.files.text import read_text
from benchapp.judgement.limits.own_figures import with_own_sources
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.limits.sources import OWN_STATUS
from benchapp.judgement.meters.records import MeterRecord
from benchapp.sequences.language.hazards import OldHazard
from benchapp.sequences.language.models import Caution, RouteFile, SequenceFile
from benchapp.sequences.language.repairs import UsualRepairs
from benchapp.sequences.planning.applying import applies
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment

Documents = Mapping[tuple[str, str], Document]
"""The document behind each model, by what it is and its id."""
MODELS: Mapping[str, type[FileModel]] = MappingProxyType(
    {
        "route": RouteFile,
        "sequence": SequenceFile,
        "equipment": Equipment,
        "connector": Connector,
        "meter": MeterRecord,
        "limits": LimitProfile,
        "caution": Caution,
        "repairs": UsualRepairs,
        "hazard": OldHazard,
    }
)
"""What a file can be, by the first of these keys that it has. Others (label sheets, fault weights) are not ours."""
_PLURAL = {
    "equipment": "equipment",
    "connector": "connectors",
    "meter": "meters",
    "limits": "limits",
    "caution": "cautions",
    "repairs": "repairs",
    "hazard": "hazards",
    "sequence": "sequences",
    "route": "routes",
}
OWN_WORDS = "this workshop's own words"
"""What a caution prints as its source that an own file wrote."""
SHIPPED_NAMES = ("sequences/", "resources/")
"""How the names of shipped files begin."""
_ARTICLES = {"equipment": "an", "repairs": "a list of"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Catalogue:
    """Everything by its id, and the text of every file by its name ("sequences/continuity.yaml").

    It is never changed once it was read, and is itself alone: plans are kept by the catalogue they were made from.
    """

    equipment: Mapping[str, Equipment] = field(default_factory=dict)
    connectors: Mapping[str, Connector] = field(default_factory=dict)
    meters: Mapping[str, MeterRecord] = field(default_factory=dict)
    limits: Mapping[str, LimitProfile] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    repairs: Mapping[str, UsualRepairs] = field(default_factory=dict)
    hazards: Mapping[str, OldHazard] = field(default_factory=dict)
    sequences: Mapping[str, SequenceFile] = field(default_factory=dict)
    routes: Mapping[str, RouteFile] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """(what it is, id) -> name of its file"""
    replaced: Mapping[tuple[str, str], Any] = field(default_factory=dict)
    """(what it is, id) -> what is shipped by that id, where an own file takes its place"""
    replaced_names: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """(what it is, id) -> the name of its file"""

    def model(self, kind: str, ident: str) -> Any:  # noqa: ANN401  a model of any kind
        """The file of that kind and id; raises KeyError."""
        return getattr(self, _PLURAL[kind])[ident]

    def is_own(self, kind: str, ident: str) -> bool:
        """Whether the file of that kind and id is a workshop's own; raises KeyError."""
        return not bears_shipped_name(self.names[kind, ident])

    def without_examples(self) -> "Catalogue":
        """The same without the made-up designs and meters that are shipped; what a workshop made of them stays."""
        equipment = {one: design for one, design in self.equipment.items() if not self._is_example("equipment", one)}
        meters = {one: meter for one, meter in self.meters.items() if not self._is_example("meter", one)}
        return replace(self, equipment=equipment, meters=meters)

    def _is_example(self, kind: str, ident: str) -> bool:
        return self.model(kind, ident).example and not self.is_own(kind, ident)

    def routes_for(self, equipment: str) -> tuple[str, ...]:
        """The routes of a design: those that name it, or where none does, those whose `fits` suits it."""
        named = tuple(name for name, route in self.routes.items() if equipment in route.equipment)
        if named or equipment not in self.equipment:
            return named
        facts = self.equipment[equipment].facts()
        general = (name for name, route in self.routes.items() if route.fits)
        return tuple(name for name in general if applies(self.routes[name].fits, facts)[0])

    def regions_offered(self) -> tuple[LimitProfile, ...]:
        """The regions that a workshop can be in: those whose plugs are described, in words and as connectors."""
        return tuple(
            profile
            for _, profile in sorted(self.limits.items())
            if profile.plug is not None and set(profile.plug.connectors) <= self.connectors.keys()
        )

    def texts_for(self, route: str, equipment: str, meters: tuple[str, ...] = ()) -> Mapping[str, str]:
        """The texts that a run of that route over that equipment with those meters (all, when none are named) pins.

        Beside an own file stands the shipped one whose place it takes: it tells which figures are the workshop's own.
        """
        wanted = [("route", route), ("equipment", equipment), *(("limits", name) for name in self.limits)]
        along = self.routes[route]
        sequences = (*along.sequences, along.way_back) if along.way_back else along.sequences
        wanted += [("sequence", name) for name in sequences]
        wanted += [("connector", name) for name in self.equipment[equipment].connectors.values()]
        wanted += [("meter", name) for name in meters or self.meters]
        wanted += [("caution", name) for name in self.cautions]
        wanted += [("repairs", name) for name in self.repairs]
        wanted += [("hazard", name) for name in self.hazards]
        replaced = (self.replaced_names[one] for one in wanted if one in self.replaced_names)
        names = dict.fromkeys([*(self.names[one] for one in wanted if one in self.names), *replaced])
        return {name: self.texts[name] for name in names}


def bears_shipped_name(name: str) -> bool:
    """Whether a text is known by the name of a shipped one."""
    return name.startswith(SHIPPED_NAMES) or is_shipped(Path(name))


def texts_of(*folders: Path) -> dict[str, str]:
    """The texts of all shipped files, then of those in the given folders, by name."""
    texts: dict[str, str] = {}
    for name in ("sequences", "resources"):
        texts.update(_texts_below(shipped_folder(name), prefix=f"{name}/"))
    for folder in folders:
        texts.update(_texts_below(folder, prefix=f"{folder}/"))
    return texts


def _texts_below(folder: Path, *, prefix: str) -> dict[str, str]:
    paths = sorted([*folder.rglob("*.yaml"), *folder.rglob("*.yml")]) if folder.is_dir() else [folder]
    return {f"{prefix}{path.relative_to(folder).as_posix()}": read_text(path) for path in paths}


def catalogue_from_texts(texts: Mapping[str, str]) -> Catalogue:
    """The catalogue of pinned texts, by the names that `texts_for` gave them; raises FileProblems."""
    return _from_texts(tuple(sorted(texts.items())))


@lru_cache(maxsize=8)
def _from_texts(texts: tuple[tuple[str, str], ...]) -> Catalogue:
    """Kept by every letter of the texts: runs of many units and workbooks pin the same ones."""
    catalogue, _, complaints = read_texts(dict(texts))
    if complaints:
        raise FileProblems(complaints)
    return catalogue


def read_texts(texts: Mapping[str, str], own: Collection[str] = ()) -> tuple[Catalogue, Documents, list[Complaint]]:
    """Read every text for itself: the catalogue of the good ones, the documents behind them, and all complaints.

    `own` names the texts of one author: two of these with the same id are a mistake, while an author's own file with
    a shipped id takes its place.
    """
    found: dict[str, dict[str, Any]] = {key: {} for key in MODELS}
    names: dict[tuple[str, str], str] = {}
    documents: dict[tuple[str, str], Document] = {}
    replaced: dict[tuple[str, str], tuple[Any, str]] = {}
    complaints: list[Complaint] = []
    shipped_first = sorted(texts.items(), key=lambda one: not bears_shipped_name(one[0]))
    for name, text in shipped_first:
        try:
            key, document, model = read_alone(name, text)
        except FileProblems as problems:
            complaints.extend(problems.complaints)
            continue
        if key is None or model is None:
            continue
        ident = str(getattr(model, key))
        first = names.get((key, ident), "")
        if name in own and first in own:
            there = documents[key, ident].location((key,))
            what = f"there is {_ARTICLES.get(key, 'a')} {key} “{ident}” already, at {there}"
            complaints.append(document.complaint((key,), what, "an id of its own"))
            continue
        if not bears_shipped_name(name):
            if first and bears_shipped_name(first):
                replaced[key, ident] = (found[key][ident], first)
            model = with_true_sources(model, replaced.get((key, ident), (None, ""))[0], Path(name).name)
        found[key][ident] = model
        names[key, ident] = name
        documents[key, ident] = document
    catalogue = Catalogue(
        **{_PLURAL[key]: things for key, things in found.items()},
        texts=dict(texts),
        names=names,
        replaced={one: model for one, (model, _) in replaced.items()},
        replaced_names={one: name for one, (_, name) in replaced.items()},
    )
    return catalogue, documents, complaints


@lru_cache(maxsize=256)
def read_alone(name: str, text: str) -> tuple[str | None, Document, FileModel | None]:
    """One text read for itself: what it is, its document and its model; nothing for a file of another package.

    The same text gives the same, and models are frozen: what was read before, or pinned by many runs, is read once.
    Raises FileProblems.
    """
    document = parse_document(text, name)
    key = kind_of_document(document)
    return key, document, None if key is None else build_model(document, MODELS[key])


def with_true_sources(own: FileModel, shipped: Any, file: str) -> FileModel:  # noqa: ANN401  a model of the same kind
    """An own file whose sources are printed only with what they give; `shipped` is what it takes the place of."""
    if isinstance(own, LimitProfile):
        return with_own_sources(own, shipped, file)
    added = f"{OWN_WORDS} ({file})"
    if isinstance(own, OldHazard):
        return own.with_own_sources(() if shipped is None else shipped.statements(), added, OWN_STATUS)
    if not isinstance(own, Caution):
        return own
    if shipped is None:
        return own.model_copy(update={"source": added, "status": OWN_STATUS})
    same = own.words == shipped.words and own.title == shipped.title
    source = shipped.source if same else f"{shipped.source}; {added}"
    return own.model_copy(update={"source": source, "status": shipped.status})


def kind_of_document(document: Document) -> str | None:
    """What the file is; None for a file of another package."""
    keys = document.data if isinstance(document.data, dict) else ()
    return next((key for key in MODELS if key in keys), None)
