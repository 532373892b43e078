"""Makes loopwright-sheet.ttf, the face of the drawings, from Andika Regular (package fonts-sil-andika, 6.101).

    python3 templates/face/subset.py Andika-Regular.ttf templates/face/loopwright-sheet.ttf

Kept are the letters of European languages, Greek, Cyrillic, signs and arrows. Left out are hints and everything by which
letters would change or move beside others, so that a text is as wide as its letters are together, in every program. The
licence asks for another name of what was changed. Needs the Python library fonttools.
"""

import sys

from fontTools import subset
from fontTools.ttLib import TTFont

NAME = "Loopwright Sheet"
RANGES = [
    (0x20, 0x7E), (0xA0, 0x17F), (0x218, 0x21B), (0x300, 0x30C), (0x384, 0x3CE), (0x400, 0x45F), (0x490, 0x491),
    (0x2010, 0x2027), (0x2030, 0x203A), (0x2070, 0x2094), (0x20AC, 0x20AC), (0x2116, 0x2116), (0x2122, 0x2122),
    (0x2126, 0x2126), (0x2190, 0x2195), (0x2200, 0x226F), (0x25A0, 0x25FF), (0x2713, 0x2713), (0xFFFD, 0xFFFD),
]

source, target = sys.argv[1:]
font = TTFont(source, recalcTimestamp=False)
options = subset.Options()
options.layout_features = []
options.hinting = False
options.notdef_outline = True
options.drop_tables += ["GSUB", "GPOS", "GDEF", "Silt", "DSIG", "kern"]
options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
options.name_languages = [0x409]
subsetter = subset.Subsetter(options)
subsetter.populate(unicodes=[code for low, high in RANGES for code in range(low, high + 1)])
subsetter.subset(font)
for record in font["name"].names:
    if record.nameID in (1, 4):
        record.string = NAME
    if record.nameID in (3, 6):
        record.string = NAME.replace(" ", "")
font.save(target)
