//! What each reader gets in his joined file: his sheets, whole, and nothing that is not for him.

use std::collections::{BTreeMap, BTreeSet};

use loopwright::compiled::Compiled;
use loopwright::session;
use loopwright::views::DOCUMENTS;
use loopwright::views::readers::{Reader, SHARES, Share};

use super::sites::{FULL, full_site, of_files, packet_for_all, site};
use crate::alder_mill::AlderMill;

type Files = BTreeMap<String, Vec<u8>>;

fn files(made: &Compiled) -> Files {
    packet_for_all(made).files
}

fn file<'f>(files: &'f Files, name: &str) -> &'f str {
    std::str::from_utf8(&files[&format!("{name}.html")]).unwrap()
}

fn share(reader: Reader) -> &'static Share {
    SHARES.iter().find(|share| share.reader == reader).unwrap()
}

/// What a page says: all text, that of drawings and of their descriptions as well.
fn said(page: &str) -> String {
    let (_, body) = page.split_once("<main>").unwrap();
    let mut text = String::new();
    let mut inside = false;
    for character in body.chars() {
        match character {
            '<' => inside = true,
            '>' => {
                inside = false;
                text.push(' ');
            }
            _ if !inside => text.push(character),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn words(text: &str) -> BTreeSet<String> {
    let parts = text.split(|c: char| !c.is_alphanumeric());
    parts.filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// The article of a sheet in a page, without its frame.
fn article<'p>(page: &'p str, name: &str) -> &'p str {
    let start = format!("<article class=\"{name}\"");
    let found = page.split_once(&start).unwrap_or_else(|| panic!("no {name}")).1;
    found.split_once('>').unwrap().1.split_once("</article>").unwrap().0
}

#[test]
fn a_joined_file_holds_each_of_its_sheets_whole_and_no_other() {
    for files in [full_site(), of_files(&AlderMill::new().files())].iter().map(files) {
        for share in &SHARES {
            let page = file(&files, share.file);
            assert_eq!(
                page.matches("<article ").count(),
                share.sheets.len() + 1,
                "{}: a cover and the sheets",
                share.file
            );
            for document in share.sheets {
                let alone = file(&files, document.name);
                // A link to what is not in the file is its words alone, and each tag is a space here.
                let of = |page: &str| said(&format!("<main>{}", article(page, document.name))).replace(' ', "");
                assert_eq!(of(page), of(alone), "{} in {}", document.name, share.file);
            }
        }
    }
}

#[test]
fn every_sheet_is_in_the_installers_file_or_printed_by_itself() {
    let installer = share(Reader::Installer);
    for document in &DOCUMENTS[1..] {
        let alone = installer.appendix.iter().any(|sheet| sheet.name == document.name);
        assert_ne!(installer.sheets.iter().any(|sheet| sheet.name == document.name), alone, "{}", document.name);
    }
}

/// A sheet that a reader has not is not named to him, unless the text says that it is the installer's. A title of one word is
/// a word as well: those are looked for as links.
#[test]
fn a_joined_file_names_only_sheets_of_its_reader() {
    for files in [full_site(), of_files(&AlderMill::new().files())].iter().map(files) {
        let title = |name: &str| {
            let (_, heading) = file(&files, name).split_once("<h1").unwrap();
            heading.split_once('>').unwrap().1.split_once("</h1>").unwrap().0.to_lowercase()
        };
        for share in &SHARES {
            let has = |name: &str| share.sheets.iter().chain(share.appendix).any(|sheet| sheet.name == name);
            let page = file(&files, share.file);
            for sheet in share.sheets {
                let text = said(&format!("<main>{}", article(page, sheet.name))).to_lowercase();
                for other in DOCUMENTS[1..].iter().filter(|other| !has(other.name)) {
                    let (title, alone) = (title(other.name), file(&files, sheet.name));
                    let link = format!("href=\"{}.html\"", other.name);
                    let (_, own) = alone.split_once("<main>").unwrap();
                    assert!(!own.contains(&link), "{}: {} links to {}", share.file, sheet.name, other.name);
                    if !title.contains([' ', '-']) {
                        continue;
                    }
                    for (at, _) in text.match_indices(&title) {
                        let whose = ["installer's ", "his "].iter().any(|whose| text[..at].ends_with(whose));
                        assert!(whose, "{}: {} names {title}: {}", share.file, sheet.name, &text[..at + title.len()]);
                    }
                }
            }
        }
    }
}

/// Paper of a joined file leaves out the riser's pages of rooms alone, whose cables are all on the wire-label list there.
#[test]
fn pages_of_the_riser_that_the_label_list_has_in_rows_are_marked_for_the_style() {
    let files = files(&of_files(&AlderMill::new().files()));
    for name in ["for-electrician", "for-installer"] {
        let page = file(&files, name);
        let (riser, list) = (article(page, "riser"), said(&format!("<main>{}", article(page, "wire-labels"))));
        let drawings = riser.split("<span class=\"wide").skip(1);
        let (rooms, boards): (Vec<&str>, Vec<&str>) = drawings.partition(|drawing| drawing.starts_with(" lists"));
        assert!(boards.iter().any(|drawing| drawing.contains(">Wireless receiver<")), "{name}");
        assert!(!rooms.is_empty(), "{name}");
        for room in rooms {
            assert!(room.starts_with(" lists\""), "{name}");
            let shown = said(&format!("<main>{}", room.split_once('>').unwrap().1));
            let is_label = |word: &&str| word.starts_with('Z') && word[1..].starts_with(|c: char| c.is_ascii_digit());
            let labels: Vec<&str> = shown.split(|c: char| !c.is_alphanumeric() && c != '-').filter(is_label).collect();
            assert!(!labels.is_empty() && labels.iter().all(|label| list.contains(label)), "{name}: {labels:?}");
        }
        assert!(
            page.contains("article + article :is(p:has(> .lists), h2:has(+ p > .lists)) { display: none; }"),
            "{name}"
        );
    }
}

/// Words of arming, of delays, of what is weak and of whom the alarm calls.
const NOT_FOR_THE_ELECTRICIAN: &str = "arm armed arming disarm disarmed disarming delay delays abort bypass bypassed \
    swinger duress unwatched unseen accepted warning warnings perimeter interior follower instant silent crossed coverage event \
    events account passphrase keyholder police handling notified supervised jammed blind weakness";

/// Words of the wiring.
const NOT_FOR_THE_MONITORING_SERVICE: &str = "cable cables terminal terminals conductor conductors resistor resistors awg \
    ohm ohms splice joint stud joist";

#[test]
fn the_electrician_reads_no_word_of_arming_or_weakness_and_the_service_none_of_wiring() {
    // A circuit that the spec calls by what drives it has that word in its label.
    let files = files(&site(&FULL.replace("armed-light", "porch-light")));
    let read = |reader| words(&said(file(&files, share(reader).file)));
    let electrician = read(Reader::Electrician);
    let of_mill =
        words(&said(file(&self::files(&of_files(&AlderMill::new().files())), share(Reader::Electrician).file)));
    for word in NOT_FOR_THE_ELECTRICIAN.split_whitespace() {
        assert!(!electrician.contains(word) && !of_mill.contains(word), "{word}");
    }
    let service = read(Reader::MonitoringService);
    for word in NOT_FOR_THE_MONITORING_SERVICE.split_whitespace() {
        assert!(!service.contains(word), "{word}");
    }
    // The words are looked for in the right way: the installer reads all kinds of them.
    let installer = read(Reader::Installer);
    for word in ["arming", "delay", "accepted", "perimeter", "event", "cable", "terminal", "resistor"] {
        assert!(installer.contains(word), "{word}");
    }
}

/// What the spec says of how the alarm is used, in its own words.
#[test]
fn what_the_spec_says_of_the_alarms_use_is_in_no_sheet_for_the_electrician() {
    let outcome = session::compile(&Reader::ALL, &AlderMill::new().files());
    let mill = of_files(&AlderMill::new().files()).site;
    let areas = mill.areas.iter().map(|area| format!("{}. {}", area.number, area.title));
    let accepted = outcome.diagnostics.iter().filter_map(|found| found.accepted.clone());
    let told: Vec<String> = areas.chain(accepted).collect();
    assert!(told.len() > 6);
    let files = outcome.bundle.unwrap().files;
    // With what is printed by itself, where that belongs to one revision.
    let read = |reader| {
        let alone = share(reader).appendix.iter().map(|sheet| sheet.name);
        let pages =
            std::iter::once(share(reader).file).chain(alone).filter_map(|name| files.get(&format!("{name}.html")));
        pages.map(|page| said(std::str::from_utf8(page).unwrap())).collect::<String>()
    };
    let (electrician, installer) = (read(Reader::Electrician), read(Reader::Installer));
    for words in told {
        assert!(!electrician.contains(&words), "{words}");
        assert!(installer.contains(&words), "{words}");
    }
}
