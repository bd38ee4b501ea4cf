"""The shipped limits of each region against the published figures they were taken from, copied here as facts.

Each row: where the figure stands in our file, value, unit, a part of its source, and how sure we are of it: "confirmed"
(read on a public page), "from memory" (check the document). Sources: ESQCR 2002, S.I. 2002/2665; Electricity Supply
Regulations 1988; EN 50160; ANSI C84.1; AS 60038:2000; Electricity (Safety) Regulations 2010 (NZ); IET Code of Practice
for In-service Inspection and Testing, 4th and 5th ed.; EN 50678 and EN 50699 (formerly DIN VDE 0701-0702); IEC 60335-1;
IEC 60228:2004; BS 7671 Table 4F3A; BS 1362:1973; BS 1363-1 Table 2; Electrical Appliances (Colour Code) Regulations
1969.

Published figures that are not shipped, each with its reason: conductors of class 1 and 2 (fixed wiring; a cord has
class 5); aluminium (no cord is of it); suspended mass, voltage drop and factors above 30 °C of BS 7671 (of no use to a
bench in a room); time and current of fuse links (none is blown on purpose); size and place of plug pins (sources differ
on the earth pin, 22.3 or 22.7 mm); touch current of class I in the IET Code (the same figures are held against the
protective conductor current); 95 % of the week and −15 % of EN 50160 (a bench takes one reading); Japan (no region of
ours); 30 V, 42.4 V, 60 V and 2 mA DC (the stricter 25 V and 34 V are shipped); the cord of a C13 connector (sources
differ, 0.75 or 1.0 mm² up to 2 m).
"""

from decimal import Decimal

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.figures import Figure, Statement, Table
from benchapp.judgement.limits.profiles import CoreColour, LimitProfile

CODE = "IET Code of Practice"
EN = "EN 50678 and EN 50699"
SURE, MEMORY, PRACTICE = "confirmed", "from memory", "common practice, no source"
CLASS_5 = {"0.5": "39.0", "0.75": "26.0", "1.0": "19.5", "1.5": "13.3", "2.5": "7.98", "4": "4.95"}
CLASS_5_TINNED = {"0.5": "40.1", "0.75": "26.7", "1.0": "20.0", "1.5": "13.7", "2.5": "8.21", "4": "5.09"}
COPPER = [
    *[(f"conductors, plain, {area} mm²", ohms, "ohm/km", "IEC 60228:2004", SURE) for area, ohms in CLASS_5.items()],
    *[
        (f"conductors, tinned, {area} mm²", ohm, "ohm/km", "IEC 60228:2004", SURE)
        for area, ohm in CLASS_5_TINNED.items()
    ],
    ("conductors, temperature coefficient", "0.00393", "/K", "IEC 60228 Annex B", SURE),
]
EVERYWHERE = [
    ("voltage low", "25", "V", "IEC 61140", SURE),  # AC in a damp or arduous place; we take it for DC too
    ("plug pins", "34", "V", "IEC 60335-1", SURE),  # 1 s after unplugging; clause number from memory
    ("capability", "30", "%", "IEC 61557", MEMORY),  # no figure of the published limits: our own reckoning on them
]
AUSTRALASIA = [
    *EVERYWHERE,
    *COPPER,
    # No public figure of AS/NZS 5761 or 3760 was found: these are from memory alone, and say so where they are shown.
    ("earth continuity, base", "1.0", "ohm", "AS/NZS 3760", MEMORY),
    ("insulation, test voltage", "500", "V", "AS/NZS 3760", MEMORY),
    ("insulation, test voltage with suppressor", "250", "V", "AS/NZS 3760", MEMORY),
    ("insulation, minimum, I", "1.0", "Mohm", "AS/NZS 5761", MEMORY),
    ("insulation, minimum, II", "1.0", "Mohm", "AS/NZS 5761", MEMORY),
    ("protective conductor current, by class, I", "5", "mA", "AS/NZS 3760", MEMORY),
    ("touch current, by class, II", "1", "mA", "AS/NZS 3760", MEMORY),
]
RANGE_B = "other mains, United States, at the outlet, Range B"
NO_FIGURE = "no figure of the United States was found"

PUBLISHED = {
    "gb": [
        *EVERYWHERE,
        *COPPER,
        ("conductors, plain, 1.25 mm²", "15.6", "ohm/km", "IEC 60228", MEMORY),  # no size of IEC 60228
        ("mains, nominal", "230", "V", "S.I. 2002/2665", SURE),
        ("mains, below", "6", "%", "S.I. 2002/2665", SURE),
        ("mains, above", "10", "%", "S.I. 2002/2665", SURE),
        ("mains, frequency", "50", "Hz", "S.I. 2002/2665", MEMORY),
        ("other mains, Great Britain before 1995, frequency", "50", "Hz", "Regulations 1988", MEMORY),
        ("other mains, Great Britain before 1995, nominal", "240", "V", "Regulations 1988", SURE),
        ("other mains, Great Britain before 1995, below", "6", "%", "Regulations 1988", SURE),
        ("other mains, Great Britain before 1995, above", "6", "%", "Regulations 1988", SURE),
        ("earth continuity, base", "0.1", "ohm", CODE, SURE),  # and the cord's protective conductor
        ("insulation, test voltage", "500", "V", CODE, SURE),
        ("insulation, test voltage with suppressor", "250", "V", "BS EN 50699:2020", SURE),
        ("insulation, minimum, I", "1.0", "Mohm", CODE, SURE),
        ("insulation, minimum, II", "2.0", "Mohm", CODE, SURE),
        ("insulation, minimum, III", "0.25", "Mohm", CODE, SURE),
        ("insulation, heating, minimum", "0.3", "Mohm", CODE, SURE),
        ("insulation, heating, from power", "3", "kW", CODE, MEMORY),  # two public pages print "< 3 kW"
        ("protective conductor current, by class, I", "3.5", "mA", CODE, SURE),
        ("protective conductor current, hand held", "0.75", "mA", CODE, SURE),
        ("protective conductor current, heating, each kilowatt", "0.75", "mA", CODE, MEMORY),
        ("protective conductor current, heating, at least", "0.75", "mA", CODE, MEMORY),
        ("protective conductor current, heating, at most", "5", "mA", CODE, MEMORY),
        ("touch current, by class, II", "0.25", "mA", CODE, SURE),
        ("touch current, by class, III", "0.5", "mA", CODE, MEMORY),
        ("cords, by area, 0.5 mm²", "3", "A", "Table 4F3A", SURE),
        ("cords, by area, 0.75 mm²", "6", "A", "Table 4F3A", SURE),
        ("cords, by area, 1.0 mm²", "10", "A", "Table 4F3A", SURE),
        ("cords, by area, 1.25 mm²", "13", "A", "Table 4F3A", SURE),
        ("cords, by area, 1.5 mm²", "16", "A", "Table 4F3A", SURE),  # 15 A in the Code's Table VII.1
        ("cords, by area, 2.5 mm²", "25", "A", "Table 4F3A", SURE),
        ("cords, by area, 4 mm²", "32", "A", "Table 4F3A", SURE),
        ("cords, short moulded", "10", "A", "BS 1363-1 Table 2", SURE),
        ("cords, short length", "2", "m", "BS 1363-1 Table 2", SURE),
        ("cords, short area", "0.75", "mm²", "BS 1363-1 Table 2", SURE),
        ("fuses, ratings, 1", "3", "A", "BS 1362:1973", SURE),
        ("fuses, ratings, 2", "13", "A", "BS 1362:1973", SURE),
        ("fuses, cut over power", "700", "W", "training convention", SURE),
        ("fuses, inrush", "5", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for cord, 0.5 mm²", "3", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for cord, 0.75 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for cord, 1.0 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for cord, 1.25 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for cord, 1.5 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for inrush, 0.5 mm²", "5", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for inrush, 0.75 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for inrush, 1.0 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for inrush, 1.25 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
        ("fuses, largest for inrush, 1.5 mm²", "13", "A", "BS 1363-1 Table 2", SURE),
    ],
    "eu": [
        *EVERYWHERE,
        *COPPER,
        ("mains, nominal", "230", "V", "EN 50160", SURE),
        ("mains, below", "10", "%", "EN 50160", SURE),
        ("mains, above", "10", "%", "EN 50160", SURE),
        ("mains, frequency", "50", "Hz", "EN 50160", MEMORY),
        ("earth continuity, base", "0.3", "ohm", EN, SURE),
        ("earth continuity, longer cords, up to", "5", "m", EN, SURE),
        ("earth continuity, longer cords, each further", "7.5", "m", EN, SURE),
        ("earth continuity, longer cords, adds", "0.1", "ohm", EN, SURE),
        ("earth continuity, longer cords, at most", "1.0", "ohm", EN, SURE),
        ("earth continuity, longer cords, largest area", "1.5", "mm²", EN, SURE),
        ("earth continuity, longer cords, smallest", "0.1", "ohm", EN, SURE),  # one maker alone
        ("insulation, test voltage", "500", "V", "BS EN 50699:2020", SURE),
        ("insulation, test voltage with suppressor", "250", "V", "BS EN 50699:2020", SURE),
        ("insulation, minimum, I", "1.0", "Mohm", "VDE 0701-0702:2008; EN 50699", MEMORY),  # EN 50699 itself is
        ("insulation, minimum, II", "2.0", "Mohm", "VDE 0701-0702:2008; EN 50699", MEMORY),
        ("insulation, minimum, III", "0.25", "Mohm", "VDE 0701-0702:2008; EN 50699", MEMORY),
        ("insulation, heating, minimum", "0.3", "Mohm", "VDE 0701-0702:2008", SURE),
        ("protective conductor current, by class, I", "3.5", "mA", "VDE 0702", SURE),
        ("protective conductor current, heating, above power", "3.5", "kW", "VDE 0702", SURE),
        ("protective conductor current, heating, each kilowatt", "1", "mA", "VDE 0702", SURE),
        ("protective conductor current, heating, at most", "10", "mA", "VDE 0702", SURE),
        ("touch current, by class, I", "0.5", "mA", "IEC 61140", SURE),
        ("touch current, by class, II", "0.5", "mA", "IEC 61140", SURE),
    ],
    "us": [
        *EVERYWHERE,
        # at the outlet, -10 % +5 %; Range B -13 % +6 % (maker paper, trade press); 114 V to 126 V is the supply point
        ("mains, nominal", "120", "V", "ANSI C84.1-2020", SURE),
        ("mains, below", "10", "%", "ANSI C84.1-2020", SURE),
        ("mains, above", "5", "%", "ANSI C84.1-2020", SURE),
        ("mains, frequency", "60", "Hz", "ANSI C84.1-2020", MEMORY),
        (f"{RANGE_B}, nominal", "120", "V", "ANSI C84.1-2020", SURE),
        (f"{RANGE_B}, below", "13", "%", "ANSI C84.1-2020", SURE),
        (f"{RANGE_B}, above", "6", "%", "ANSI C84.1-2020", SURE),
        (f"{RANGE_B}, frequency", "60", "Hz", "ANSI C84.1-2020", MEMORY),
        # no public figure of the United States was found: those of the IET Code are taken, and each says so
        ("earth continuity, base", "0.1", "ohm", NO_FIGURE, PRACTICE),
        ("insulation, test voltage", "500", "V", NO_FIGURE, PRACTICE),
        ("insulation, test voltage with suppressor", "250", "V", NO_FIGURE, PRACTICE),
        ("insulation, minimum, I", "1.0", "Mohm", NO_FIGURE, PRACTICE),
        ("insulation, minimum, II", "2.0", "Mohm", NO_FIGURE, PRACTICE),
        ("insulation, minimum, III", "0.25", "Mohm", NO_FIGURE, PRACTICE),
        *[row for row in COPPER if "tinned" not in row[0]],
        # 18, 16 and 14 AWG: NFPA 70 chapter 9 Table 8, 26.1, 16.4 and 10.3 ohm/km at 75 °C, over 1 + 0.00393 × 55
        ("conductors, plain, 0.82 mm²", "21.5", "ohm/km", "IEC 60228", MEMORY),
        ("conductors, plain, 1.31 mm²", "13.5", "ohm/km", "IEC 60228", MEMORY),
        ("conductors, plain, 2.08 mm²", "8.47", "ohm/km", "IEC 60228", MEMORY),
    ],
    "au": [
        ("mains, nominal", "230", "V", "AS 60038:2000", SURE),
        ("mains, below", "6", "%", "AS 60038:2000", SURE),
        ("mains, above", "10", "%", "AS 60038:2000", SURE),
        ("mains, frequency", "50", "Hz", "AS 60038:2000", MEMORY),
        *AUSTRALASIA,
    ],
    "nz": [
        ("mains, nominal", "230", "V", "Electricity (Safety) Regulations 2010", SURE),
        ("mains, below", "6", "%", "Electricity (Safety) Regulations 2010", SURE),
        ("mains, above", "6", "%", "Electricity (Safety) Regulations 2010", SURE),
        ("mains, frequency", "50", "Hz", "Electricity (Safety) Regulations 2010", MEMORY),
        *AUSTRALASIA,
    ],
}
COLOURS = {
    "gb": [
        ("live", "brown", "red", "Regulations 1969", SURE),
        ("neutral", "blue", "black", "Regulations 1969", SURE),
        ("earth", "green and yellow", "green", "Regulations 1969", SURE),
    ],
    "eu": [
        # the old code of Germany and Austria: 3 German pages and a newsgroup; the north: newsgroup, forum
        ("live", "brown", "black or blue in Germany and Austria", "HD 308", MEMORY),
        ("neutral", "blue", "grey in Germany and Austria", "HD 308", MEMORY),
        ("earth", "green and yellow", "red in Germany, Austria and the north", "HD 308", MEMORY),
    ],
    "us": [
        ("live", "black", "", "NFPA 70", MEMORY),
        ("neutral", "white", "", "NFPA 70", MEMORY),
        ("earth", "green", "", "NFPA 70", MEMORY),
    ],
    "au": [
        ("live", "brown", "red", "AS/NZS 3191", MEMORY),
        ("neutral", "light blue", "black", "AS/NZS 3191", MEMORY),
        ("earth", "green and yellow", "green", "AS/NZS 3191", MEMORY),
    ],
    "nz": [
        ("live", "brown", "red", "AS/NZS 3191", MEMORY),
        ("neutral", "light blue", "black", "AS/NZS 3191", MEMORY),
        ("earth", "green and yellow", "green", "AS/NZS 3191", MEMORY),
    ],
}


def profile(region: str) -> LimitProfile:
    return build_model(read_document(shipped_folder("resources") / "limits" / f"{region}.yaml"), LimitProfile)


def shipped(region: str) -> dict[str, Figure]:
    """Every single figure by its place in words, tables line by line."""
    found: dict[str, Figure] = {}
    for location, figure in profile(region).figures():
        if isinstance(figure, Figure):
            found[location] = figure
        elif isinstance(figure, Table):
            found |= {f"{location}, {area}": one for area, one in figure.figures().items()}
    return found


ROWS = [(region, *row) for region, rows in PUBLISHED.items() for row in rows]


@pytest.mark.parametrize(("region", "location", "value", "unit", "source", "status"), ROWS)
def test_a_shipped_figure_is_the_published_one(region, location, value, unit, source, status):
    figure = shipped(region)[location]
    assert (figure.value, figure.unit) == (Decimal(value), unit)
    assert source in figure.source
    assert figure.certain is (status == SURE)
    assert figure.status.startswith("confirmed (") or status in (MEMORY, PRACTICE)
    assert (figure.status == PRACTICE) is (status == PRACTICE)


def test_every_region_that_is_shipped_is_held_against_its_sources():
    regions = {path.stem for path in (shipped_folder("resources") / "limits").glob("*.yaml")}
    assert set(PUBLISHED) == regions
    assert set(COLOURS) == regions


@pytest.mark.parametrize("region", PUBLISHED)
def test_no_figure_is_shipped_that_is_not_held_against_its_source(region):
    assert set(shipped(region)) == {location for location, *_ in PUBLISHED[region]}


@pytest.mark.parametrize("region", COLOURS)
def test_core_colours_are_the_published_ones(region):
    found = [one for _, one in profile(region).figures() if isinstance(one, CoreColour)]
    assert [(one.core, one.new, one.old) for one in found] == [row[:3] for row in COLOURS[region]]
    for one, (*_, source, status) in zip(found, COLOURS[region], strict=True):
        assert source in one.source
        assert one.certain is (status == SURE)


# BS 1362, BS 1363-1, trading standards guidance (encyclopedia, std text, TS); the year 1984 is from memory
@pytest.mark.parametrize(
    ("words", "source", "status"),
    [
        ("any rating up to 13 A is allowed", "BS 1362:1973", SURE),
        ("3 A red, 13 A brown, all others black", "BS 1362:1973", SURE),
        ("2 A blue, 5 A grey, 7 A black, 10 A yellow, 13 A brown", "earlier BS 1362", SURE),
        ("25.4 mm × 6.3 mm", "BS 1362", SURE),
        ("marked BS 1362", "BS 1362", MEMORY),
        ("under about 2.2 g", "DTI warning", SURE),
        ("at least 9.5 mm", "BS 1363-1", SURE),
        ("sleeving became mandatory in the 1980s", "BS 1363", MEMORY),
        ("earth pin is never sleeved", "BS 1363-1", SURE),
        ("0.5 mm² to 1.5 mm²", "BS 1363-1:1995", SURE),
        ("failed items destroyed", "trading standards", SURE),
        ("Red, black and green flex", "council guidance", SURE),
        ("25 A at most, for 5 to 20 s; or 20 mA to 200 mA", CODE, SURE),
    ],
)
def test_rules_in_words_are_the_published_ones(words, source, status):
    rules = [one for _, one in profile("gb").figures() if isinstance(one, Statement)]
    [rule] = [one for one in rules if words in one.words]
    assert source in rule.source
    assert rule.certain is (status == SURE)


# old colours of flexible cords: three German pages, newsgroups, forums, as each row says; regulator and law pages
@pytest.mark.parametrize(
    ("region", "words", "source", "status"),
    [
        ("eu", "live black or blue, neutral grey, earth red", "three pages and a newsgroup", SURE),
        ("eu", "Sweden, no rule before 1960, then until 1968: earth red", "forum", SURE),
        ("eu", "Norway and Finland: earth red", "newsgroup", SURE),
        ("eu", "neutral red, earth grey", "newsgroup", SURE),
        ("eu", "live red, yellow or blue, neutral grey, earth black", "newsgroup", SURE),
        ("eu", "live red, neutral grey, earth yellow or yellow and red", "newsgroup", SURE),
        ("eu", "Plain green or yellow may be live", "disagree", SURE),
        ("eu", "Poland: earth grey", "newsgroup", SURE),
        ("eu", "Denmark and Italy: no colours were found", "no source", PRACTICE),
        ("eu", "A colour is a hint, never evidence", "bench custom", PRACTICE),
        ("au", "tested and tagged to AS/NZS 5761", "AS/NZS 5761:2011", SURE),
        ("nz", "tested and tagged to AS/NZS 5761, or disabled to AS/NZS 4701", "regulation 80(3)", SURE),
        ("nz", "1 ohm and 1 Mohm are from memory", "AS/NZS 5761:2011", MEMORY),
        ("us", "hair dryers without immersion protection", "resellers", SURE),
    ],
)
def test_rules_in_words_of_other_regions_are_as_they_were_read(region, words, source, status):
    [rule] = [one for _, one in profile(region).figures() if isinstance(one, Statement) and words in one.words]
    assert source in rule.source
    assert rule.certain is (status == SURE)
    assert rule.status.startswith("confirmed (") or rule.status == status
