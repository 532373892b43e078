//! Every drawing of the demos and of made-up sites, by geometry: nothing on top of words, everything inside its frame and
//! its page.
//!
//! The made-up sites are what a spec may hold and a house seldom does: rooms in one another, far apart, without measures,
//! of 400 ft and of 2 ft; openings that lie outside their wall; many devices in one room; names of every length and script.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use crate::compiled::Compiled;
use crate::diag::Sink;
use crate::draw::tests::faults;
use crate::register::{self, Register};
use crate::resolve::load::{MemoryFiles, SITE_FILE};
use crate::resolve::resolve;
use crate::views::{DOCUMENTS, View};

fn compiled(files: BTreeMap<String, Vec<u8>>) -> Compiled {
    let mut sink = Sink::default();
    let resolved = resolve(&MemoryFiles(files), &mut sink);
    let site = resolved.site.unwrap_or_else(|| panic!("{:#?}", sink.found()));
    let kept = register::keep(&site, &Register::default());
    Compiled::new(site, kept.wiring, resolved.sources)
}

#[allow(clippy::disallowed_methods, reason = "the demos as they stand on disk")]
fn folder(name: &str, before: &str) -> BTreeMap<String, Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name);
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let named = |path: &Path| format!("{before}{}", path.file_name().unwrap().to_str().unwrap());
    files.map(|path| (named(&path), fs::read(&path).unwrap())).collect()
}

/// How many drawings a site has; fails where one has a fault.
fn drawn_well(site: &Compiled, name: &str) -> usize {
    let mut drawings = 0;
    for document in DOCUMENTS.iter().filter(|document| matches!(document.view, View::Drawn(_))) {
        let room = document.orientation.room();
        for drawing in document.made(site).1 {
            let size = drawing.scene.size;
            assert!(size.width <= room.width && size.height <= room.height, "{name}, {}: {size:?}", drawing.name);
            assert_eq!(faults(&drawing.scene), Vec::<String>::new(), "{name}, {}", drawing.name);
            drawings += 1;
        }
    }
    drawings
}

/// A demo, of its own folder and the parts.
pub(super) fn demo(name: &str) -> Compiled {
    let mut files = folder(name, "");
    files.extend(folder("parts", "../parts/"));
    compiled(files)
}

#[test]
fn the_drawings_of_the_demos_are_legible() {
    for name in ["alder-mill", "garden-flat", "larch-bungalow"] {
        assert!(drawn_well(&demo(name), name) > 5, "{name}");
    }
}

/// Numbers that look drawn by lot and are the same on every machine (xorshift, Marsaglia 2003).
struct Lot(u64);

impl Lot {
    fn below(&mut self, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % most
    }

    fn of<'t>(&mut self, from: &[&'t str]) -> &'t str {
        from[usize::try_from(self.below(from.len() as u64)).unwrap()]
    }

    /// A name that stands nowhere else.
    fn title(&mut self, number: u64) -> String {
        let long = "W".repeat(200);
        let start = self
            .of(&["Hall", "Upper corridor, north end", "صالة المدخل", "玄関ホール", "Łazienka", &long, "i", "Кухня"])
            .to_owned();
        format!("{start} {number}")
    }
}

/// A site by lot.
fn made_up(seed: u64) -> String {
    let mut lot = Lot(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let mut text = format!(
        "site \"made-up\" title=\"Made up {seed}\" {{ lengths \"{}\" }}\ninclude \"../parts/example.kdl\"\n",
        lot.of(&["ft", "m"])
    );
    let mut rooms = Vec::new();
    let mut openings = Vec::new();
    for level in 0..=lot.below(3) {
        let _ = writeln!(text, "level \"l{level}\" title=\"{}\" storey={level} {{", lot.title(level));
        for nth in 0..lot.below(7) {
            let name = format!("r{level}-{nth}");
            let _ = writeln!(text, "room \"{name}\" title=\"{}\" {{", lot.title(nth));
            if lot.below(4) > 0 {
                let side = |lot: &mut Lot| lot.of(&["2", "9", "12", "16", "24", "400"]);
                let (x, y) = (lot.of(&["0", "0", "12", "30", "900"]), lot.of(&["0", "8", "20"]));
                let (width, depth) = (side(&mut lot), side(&mut lot));
                let _ = writeln!(text, "rect (ft){x} (ft){y} (ft){width} (ft){depth}");
            }
            for opening in 0..lot.below(4) {
                let kind = lot.of(&["door", "window", "hatch"]);
                let (wall, at) = (lot.of(&["north", "south", "east", "west"]), lot.of(&["0", "1", "3", "8", "500"]));
                let place = if lot.below(4) > 0 { format!(" wall=\"{wall}\" at=(ft){at}") } else { String::new() };
                let title = lot.title(opening);
                let _ = writeln!(text, "{kind} \"o{level}-{nth}-{opening}\" title=\"{title}\"{place}");
                openings.push((name.clone(), format!("o{level}-{nth}-{opening}")));
            }
            text += "}\n";
            rooms.push(name);
        }
        text += "}\n";
    }
    let Some(first) = rooms.first().cloned() else { return text };
    let _ = writeln!(text, "panel \"main\" title=\"{}\" part=\"board-a\" room=\"{first}\"", lot.title(0));
    text += "area \"house\" number=1\n";
    let room = |lot: &mut Lot| rooms[usize::try_from(lot.below(rooms.len() as u64)).unwrap()].clone();
    for (nth, (place, opening)) in openings.iter().enumerate() {
        let number = nth + 1;
        let _ = writeln!(
            text,
            "zone {number} \"{}\" type=\"perimeter\" area=\"house\" {{ loop \"end-of-line\" board=\"main\" {{",
            lot.title(1)
        );
        let mount = if lot.below(2) == 0 { " mount=(ft)7" } else { "" };
        let _ = writeln!(
            text,
            "run \"pair\" length=(ft)20 room=\"{place}\" {{ contact \"reed\" opening=\"{opening}\"{mount}"
        );
        for _ in 0..lot.below(3) {
            let place = room(&mut lot);
            let _ = writeln!(
                text,
                "run \"quad\" length=(ft)12 room=\"{place}\" {{ detector \"motion\" title=\"{}\" supply=\"aux\"; resistor \"1k\" }}",
                lot.title(2)
            );
        }
        text += "resistor \"2k2\" } } }\n";
    }
    // A crowd in one room.
    if lot.below(5) == 0 {
        for nth in 0..lot.below(60) {
            let number = 200 + nth;
            let _ = writeln!(
                text,
                "zone {number} \"Crowd {nth}\" type=\"interior\" area=\"house\" {{ loop \"end-of-line\" board=\"main\" {{ run \"quad\" length=(ft)9 room=\"{first}\" {{ detector \"motion\" title=\"Motion {nth}\" supply=\"aux\"; resistor \"2k2\" }} }} }}"
            );
        }
    }
    text
}

/// A site made up by lot.
pub(super) fn made_up_site(seed: u64) -> Compiled {
    let parts = include_bytes!("../../../tests/pages/example.kdl").to_vec();
    let files = [(SITE_FILE.to_owned(), made_up(seed).into_bytes()), ("../parts/example.kdl".to_owned(), parts)];
    compiled(files.into())
}

/// In two halves, which run side by side.
fn made_up_sites_are_legible(seeds: std::ops::RangeInclusive<u64>) {
    let mut drawings = 0;
    for seed in seeds {
        drawings += drawn_well(&made_up_site(seed), &format!("made up {seed}"));
    }
    assert!(drawings > 1000, "{drawings}");
}

#[test]
fn the_drawings_of_made_up_sites_are_legible() {
    made_up_sites_are_legible(1..=250);
}

#[test]
fn the_drawings_of_further_made_up_sites_are_legible() {
    made_up_sites_are_legible(251..=500);
}
