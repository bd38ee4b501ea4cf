"""Content to print, with sensible defaults, and the ways to read a page back."""

from io import BytesIO

import pypdfium2
from pypdf import PdfReader

from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.uncertainty.budget_words import BudgetLine
from benchapp.paper.content import (
    Budget,
    Fact,
    FaultLine,
    Finding,
    RecordRow,
    RecordSection,
    RecordSheet,
    RepairLine,
    Signature,
    StickerContent,
    TagContent,
    TagReading,
    Tone,
    unit_code,
)

LONG_WORD = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"


def make_tag(**changes) -> TagContent:
    """A unit that was tested and is for sale."""
    content = {
        "shelf_mark": "TB-014",
        "title": "Mains unit, two AC outputs",
        "disposition_words": "Tested, for sale",
        "tone": Tone.READY,
        "tested": ("visual inspection", "plug rewired", "continuity", "insulation", "first power", "live voltage"),
        "readings": (
            TagReading(what="Earth continuity", value="0.06 Ω", band="at most 0.147 Ω"),
            TagReading(what="Insulation at 500 V", value="> 200 MΩ", band="at least 1 MΩ"),
            TagReading(what="Outlet pins 1 and 3", value="10.41 V", band="9.6 V to 10.9 V"),
        ),
        "fuse": "3 A",
        "date": "25 November 2026",
        "initials": "AB",
        "price": "£12.50",
        "cautions": ("For use indoors, in the dry.",),
        "not_tested": ("running on load",),
        "record_hash": "3f9a2c41" * 8,
    }
    content |= changes
    content.setdefault("code", unit_code(content["shelf_mark"], content["record_hash"]))
    return TagContent(**content)


def make_sticker(**changes) -> StickerContent:
    """A unit that came in with a lot."""
    content = {
        "shelf_mark": "TB-014",
        "title": "Mains unit, two AC outputs",
        "lot": "Attic shelves",
        "taken_in": "2026-05-04",
    }
    content |= changes
    content.setdefault("code", unit_code(content["shelf_mark"], "3f9a2c41" * 8))
    return StickerContent(**content)


def make_row(**changes) -> RecordRow:
    content = {
        "number": "3",
        "step": "Earth continuity from the plug's earth pin to the case",
        "reading": "0.06 Ω",
        "band": "at most 0.147 Ω",
        "uncertainty": "0.02 Ω",
        "meter": "TB-M3, 20 Ω",
        "when": "25 Nov 2026, 10:42",
        "by": "AB",
        "judgement": "pass",
        "finding": Finding.GOOD,
        "derivation": (
            DerivationStep(what="base limit", value="0.1 Ω", source="in-service testing limits, from memory"),
            DerivationStep(what="cord 1.8 m of 0.75 mm²", value="0.047 Ω", source="IEC 60228:2004, class 5"),
        ),
    }
    return RecordRow(**(content | changes))


def make_budget(**changes) -> Budget:
    """A reading of 9.12 V on a hand meter."""
    rows = (
        BudgetLine(
            source="accuracy ±(0.7 % + 3 counts), range to 60 V",
            value="±0.094 V",
            distribution="rectangular",
            sensitivity="1",
            contribution="0.054 V",
            share="99.7 %",
        ),
        BudgetLine(
            source="resolution",
            value="±0.005 V",
            distribution="rectangular",
            sensitivity="1",
            contribution="0.0029 V",
            share="0.3 %",
        ),
    )
    content = {
        "numbers": ("3", "7"),
        "taken_with": "tb-m1, AC voltage",
        "rows": rows,
        "combined": "u = 0.054 V, U = 0.11 V (k = 2.00, ν = ∞, 95.45 %)",
    }
    return Budget(**(content | changes))


def make_record(*rows: RecordRow, **changes) -> RecordSheet:
    content = {
        "shelf_mark": "TB-014",
        "equipment": "Mains unit, two AC outputs",
        "lot": "Attic shelves",
        "disposition_words": "Tested, for sale",
        "tone": Tone.READY,
        "facts": (Fact(name="Class", value="I"), Fact(name="Cord", value="1.8 m, 0.75 mm²")),
        "sections": (RecordSection(title="Continuity", rows=rows or (make_row(),), supply="none", status="done"),),
        "faults": (FaultLine(when="24 Nov 2026", by="AB", part="plug fuse", words="13 A fitted", state="repaired"),),
        "repairs": (
            RepairLine(
                when="24 Nov 2026",
                by="AB",
                part="plug fuse",
                words="3 A fuse fitted",
                opened="plug",
                parts_used="fuse 3 A",
                retested="earth, insulation",
            ),
        ),
        "not_tested": ("running on load",),
        "cautions": ("For use indoors, in the dry.",),
        "meters": (Fact(name="TB-M3", value="calibrated 3 Mar 2026"),),
        "hashes": (Fact(name="record", value="3f9a2c41" * 8),),
        "signatures": (Signature(role="Tested by", name="A. Bearer", when="25 Nov 2026"), Signature(role="Signed off")),
        "printed": "25 November 2026",
        "code": "TB-014 3F9A2C41",
    }
    return RecordSheet(**(content | changes))


def pages_text(pdf: bytes) -> list[str]:
    """The text of each page, white space made single, as a PDF reader finds it."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


def all_text(pdf: bytes) -> str:
    return " ".join(pages_text(pdf))


def letters(text: str) -> str:
    """A text without white space, for words that may be broken over lines."""
    return "".join(text.split())


def text_boxes(pdf: bytes) -> list[tuple[int, float, float, float, float, str]]:
    """(page, left, bottom, right, top, text) in points of every piece of text, as drawn (pypdfium2)."""
    found = []
    document = pypdfium2.PdfDocument(pdf)
    for number, page in enumerate(document):
        text_page = page.get_textpage()
        for index in range(text_page.count_rects()):
            left, bottom, right, top = text_page.get_rect(index)
            found.append((number, left, bottom, right, top, text_page.get_text_bounded(left, bottom, right, top)))
        text_page.close()
        page.close()
    document.close()
    return found
