//! Texts that nobody would write, by the hundred; the fuzzer's target `format` does the same to sites for as long as one likes.

use super::{laid_out, read_by_kdl};

/// Numbers that look as if they were random, the same in each run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }

    fn pick(&mut self, of: &[&'static str]) -> &'static str {
        of[self.roll(of.len())]
    }
}

const WORDS: [&str; 9] = ["zone", "\"a b\"", "run", "\"Küche é\"", "loop", "-x", "#\"raw\"#", "price", "\"\""];
const VALUES: [&str; 13] = [
    "1",
    "-2.50",
    "\"text // no comment\"",
    "(ft)38",
    "key=1",
    "key = \"v\"",
    "k=( mA ) 12",
    "#true",
    "\"\\u{e9}\\n\"",
    "length=(ft)46.5",
    "\"\"\"\n    two\n      lines\n    \"\"\"",
    "#\"\"\"\n  raw \\\n  \"\"\"#",
    "/-gone=1",
];
/// Where one space would do, with comments in every place.
const SPACES: [&str; 8] =
    [" ", "   ", "\t", " /* c */ ", " /* over\n   lines */ ", " \\\n", "  \\ // on\r\n    ", "\u{a0}"];
const ENDS: [&str; 8] = ["\n", "\r\n", "\n\n\n\n", ";", " ; ", "   // why\n", "\n// own line  \n", "\n/* own */\n"];

fn node(dice: &mut Dice, depth: usize, text: &mut String) {
    text.push_str(dice.pick(&["", "  ", "\t", "/-", "/- ", "(t)", "    ", "/* before */ "]));
    text.push_str(dice.pick(&WORDS));
    for _ in 0..dice.roll(4) {
        text.push_str(dice.pick(&SPACES));
        text.push_str(dice.pick(&VALUES));
    }
    if depth < 4 && dice.roll(3) == 0 {
        text.push_str(dice.pick(&[" {", " { // opened\n", "\t{\n\n", " { /* c */", " /-{ hidden\n } {"]));
        for _ in 0..dice.roll(4) {
            node(dice, depth + 1, text);
        }
        text.push_str(dice.pick(&["}", "\n}", "\n\n   }", "// last\n}"]));
    }
    text.push_str(dice.pick(&ENDS));
}

/// What stands in comments, in order.
fn remarks(text: &str) -> Vec<&str> {
    let remarks = [
        "// opened",
        "// last",
        "// why",
        "// own line",
        "// on",
        "/* c */",
        "/* over\n   lines */",
        "/* own */",
        "/* before */",
    ];
    let mut found: Vec<(usize, &str)> = remarks.iter().flat_map(|remark| text.match_indices(remark)).collect();
    found.sort_unstable();
    found.into_iter().map(|(_, remark)| remark).collect()
}

#[test]
fn nothing_is_lost_from_what_nobody_would_write() {
    let (mut read, mut read_by_us) = (0, 0);
    for seed in 0..300 {
        let mut dice = Dice(seed);
        let mut text = String::new();
        (0..1 + dice.roll(5)).for_each(|_| node(&mut dice, 0, &mut text));
        let after = laid_out(&text);
        assert_eq!(laid_out(&after), after, "seed {seed}: a second time gives another text");
        // What kdl does not read stays as it is, or is read by us: neither may break what it does read.
        if let Some(before) = read_by_kdl(&text) {
            read += 1;
            assert_eq!(read_by_kdl(&after), Some(before), "seed {seed}:\n{text}\n----\n{after}");
        }
        assert_eq!(remarks(&after), remarks(&text), "seed {seed}");
        read_by_us += usize::from(after != text);
    }
    assert!(read > 80 && read_by_us > 250, "too few are read to judge: {read}, {read_by_us}");
}
