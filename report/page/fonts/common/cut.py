"""Cuts the characters of common.map out of the three faces: python3 cut.py FOLDER

Needs fonttools (Debian: python3-fonttools; 4.38.0 made the files here). The cut faces are modified versions in the sense of the
SIL Open Font License, so they carry another name. Hints for coarse screens are left out; outlines and widths stay.
"""

import pathlib
import sys

from fontTools import subset, ttLib

here = pathlib.Path(__file__).parent
wanted = [int(line.split()[1][2:], 16) for line in (here / "common.map").read_text().splitlines()]
for style in ("Regular", "Bold", "Italic"):
    font = ttLib.TTFont(here.parent / f"LiberationSans-{style}.ttf", recalcTimestamp=False)
    options = subset.Options(hinting=False, layout_features=[], glyph_names=True, notdef_outline=True, name_IDs=[6])
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=wanted)
    cutter.subset(font)
    for record in font["name"].names:
        record.string = "Drytally-" + style
    font.save(pathlib.Path(sys.argv[1]) / f"{style.lower()}.ttf")
