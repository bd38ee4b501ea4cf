"""The wire of a meter, kept in the workshop's own record of it beside the workbook."""

from pathlib import Path

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.words import say


def keep_wire(bench: Bench, meter: str, address: str, *, identity: str = "") -> ChangeSet:
    """Write the address, and who answered there, into the meter's record; raises Refused with what is wrong.

    A shipped record is copied beside the workbook first. Everything else that stands in the record stays.
    """
    from benchapp.files.locations import FileProblems

    name = bench.catalogue.names.get(("meter", meter))
    if name is None:
        raise Refused(say("There is no record of a meter “{meter}”.", meter=meter))
    own = bench.catalogue.is_own("meter", meter)
    path = Path(name) if own else _folder(bench) / f"{meter}.yaml"
    if not own and path.exists():
        raise Refused(
            say(
                "{path} is there, and was left out of the workshop's files. Mend it first: `benchapp check {path}`.",
                path=path,
            )
        )
    try:
        text = with_wire(bench.catalogue.texts[name], address, identity=identity, source=path.name)
    except FileProblems as problems:
        raise Refused(
            say("This address cannot be kept: {complaints}.", complaints=problems.complaints[0])
        ) from problems
    try:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise Refused(
            say("{path} could not be written: {strerror}. The address is not kept.", path=path, strerror=error.strerror)
        ) from error
    bench.reread_files()
    return ChangeSet(
        words=say("{meter} answers at {address}; its record is {path}.", meter=meter, address=address, path=path)
    )


def with_wire(text: str, address: str, *, identity: str = "", source: str = "meter") -> str:
    """The text of a record with that address; raises FileProblems where it would not hold."""
    from benchapp.files.editing import replace_value
    from benchapp.files.models import build_model
    from benchapp.files.reader import parse_document
    from benchapp.judgement.meters.records import MeterRecord

    document = parse_document(text, source)
    if ("wire", "address") in document.spans:
        changed = replace_value(document, ("wire", "address"), address)
        document = parse_document(changed, source)
        if identity and ("wire", "identity") in document.spans:
            changed = replace_value(document, ("wire", "identity"), identity)
    else:
        typed = "  dialect: keyboard\n" if address == "keyboard" else ""
        known = f"  identity: '{identity.replace(chr(39), '')}'\n" if identity else ""
        changed = f"{text.rstrip()}\nwire:\n  address: {address}\n{known}{typed}"
    build_model(parse_document(changed, source), MeterRecord)
    return changed


def _folder(bench: Bench) -> Path:
    return bench.path.parent / "meters"
