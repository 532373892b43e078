//! The loop figures: what they say, where their links lead, and that they do not know where the program was started.

use std::fmt::Write;

use loopwright::resolve::load::{FileSource, MemoryFiles, ReadFault};
use loopwright::session;

use super::loops::WORKED;
use super::sites::{FULL, full_site, hostile_site, markdown, site};
use loopwright::compiled::Compiled;

fn plain(made: &Compiled, name: &str) -> String {
    markdown(made, name)
}

#[test]
fn every_figure_has_its_formula_and_its_line() {
    let figures = plain(&full_site(), "loop-figures");
    let line_of = |text: &str| FULL.lines().position(|line| line.contains(text)).unwrap() + 1;
    let run = line_of("run \"plain\" length=(ft)12");
    for wanted in [
        format!(
            "Ω) | 2 × 3.66 m ÷ (58 m/Ωmm² × 0.2047 mm²) × (1 + 0.00393 × (T − 20 °C)), T = 20 °C (5 °C to 35 °C) | ASTM B258 for the diameter of 24 AWG, IEC 60028 for copper; temperatures: common practice | site.kdl:{run} |"
        ),
        format!("| marked value and tolerance, IEC 60062 and IEC 60063 | site.kdl:{} |", run + 2),
        "| [at rest](#zone-1-s1) | e1 + … + e5 | 2202.".to_owned(),
        "V = 5.00 V × R ÷ (R + 2.2 kΩ)".to_owned(),
        "through 2.2 kΩ ±1 % (../parts/example.kdl:9)".to_owned(),
        "part reed (../parts/example.kdl:".to_owned(),
    ] {
        assert!(figures.contains(&wanted), "{wanted}\n\n{figures}");
    }
}

/// The row that a link of the sheet leads to has the figure that the link is on, to the digits of the sheet.
#[test]
fn a_link_of_the_sheet_leads_to_its_figure() {
    let mut followed = 0;
    for made in [full_site(), hostile_site(), site(&super::older::fed("signal"))] {
        let (sheet, figures) = (plain(&made, "loop-sheet"), plain(&made, "loop-figures"));
        for link in sheet.split("**[").skip(1) {
            let (figure, rest) = link.split_once("](loop-figures.md").unwrap();
            let (place, _) = rest.split_once(')').unwrap();
            let row = figures.lines().find(|line| line.contains(&format!("]({place}) |"))).unwrap();
            // A detector without supply is in no alarm that a meter could show.
            if figure == "–" {
                assert!(row.contains("in alarm"), "{row}");
                continue;
            }
            if figure == "open" || figure.starts_with("0 ") || figure.starts_with("0.00 V") {
                assert!(row.contains("open") || row.contains("0.00"), "{figure}: {row}");
                followed += 1;
                continue;
            }
            let (numbers, unit) = figure.rsplit_once(' ').unwrap();
            let said = |number: &str| number.parse::<f64>().unwrap() * if unit.starts_with('k') { 1000.0 } else { 1.0 };
            // Of states that share a row the link leads to the first.
            let (low, high) = numbers.split_once(" to ").unwrap_or((numbers, numbers));
            let (low, high) = (said(low), said(high));
            let fine = if unit == "V" { 0.0051 } else { 0.051_f64.max(high * 0.001) };
            let within = low - fine..=high + fine;
            let near = |cell: &str| cell.split(' ').next().unwrap().parse().is_ok_and(|x: f64| within.contains(&x));
            assert!(row.split(" | ").any(near), "{figure}: {row}");
            followed += 1;
        }
    }
    assert!(followed > 30, "{followed}");
}

#[test]
fn the_figures_lead_back_to_the_sheet() {
    for made in [full_site(), hostile_site()] {
        let (sheet, figures) = (plain(&made, "loop-sheet"), plain(&made, "loop-figures"));
        assert_eq!(sheet.matches("## [").count(), made.loops.len());
        for zone in made.loops.keys() {
            let number = made.site.zones[*zone].number.value;
            let heading = format!("## [{number}](#zone-{number}) ");
            assert!(sheet.contains(&heading) && figures.contains(&heading));
            assert!(figures.contains(&format!("[loop sheet](loop-sheet.md#zone-{number})")));
        }
    }
}

/// Files that are shown as if the program had been started elsewhere.
struct Elsewhere(MemoryFiles);

impl FileSource for Elsewhere {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        self.0.read(path)
    }

    fn shown(&self, path: &str) -> String {
        format!("/some/where/{path}")
    }
}

#[test]
fn paper_does_not_know_where_the_program_was_started() {
    let parts = include_str!("../pages/example.kdl");
    // Its second zone is wrong on purpose.
    let (text, _) = WORKED.split_once("zone 2").unwrap();
    let files = || {
        MemoryFiles([("site.kdl", text), ("../parts/example.kdl", parts)].map(|(p, t)| (p.to_owned(), t.into())).into())
    };
    let (here, there) = (session::compile(&[], &files()), session::compile(&[], &Elsewhere(files())));
    assert!(here.bundle.is_some());
    assert_eq!(here.bundle, there.bundle);
    let asked = session::why(&Elsewhere(files()), 1).answer.unwrap();
    assert!(asked.elements[0].place.starts_with("/some/where/site.kdl:"), "a screen shows the path as it was named");
}

/// What is nearest to its least is not the smallest by its marking: a tenth off 1 kΩ is less than a hundredth off 910 Ω.
#[test]
fn the_smallest_resistors_are_so_by_their_marking() {
    let text = format!(
        "{}panel \"side\" part=\"double-a\" room=\"lobby\"
zone 1 \"Lobby\" type=\"perimeter\" {{ loop \"double-end-of-line\" board=\"side\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{
    contact \"reed\" title=\"A\" shunt=\"1k0K\"; contact \"reed\" title=\"B\" shunt=\"910RF\"; contact \"reed\" title=\"C\" shunt=\"100RF\"; resistor \"2k2\"; }} }} }}\n",
        crate::pages::HEADER
    );
    let figures = plain(&site(&text), "loop-figures");
    let smallest: Vec<&str> = figures.lines().filter(|line| line.contains("smallest resistors")).collect();
    assert!(smallest.len() == 1 && smallest[0].contains("| 3210.7 Ω (3080.1 to 4329.9 Ω)"), "{smallest:?}");
}

#[test]
fn a_loop_of_very_many_places_is_unfolded_in_part() {
    let mut runs = String::new();
    for place in 0..200 {
        let end = if place == 199 { "; resistor \"2k2\"" } else { "" };
        writeln!(runs, "run \"pair\" length=(ft)2 room=\"hall\" {{ contact \"reed\" title=\"C{place}\"{end}; }}")
            .unwrap();
    }
    let made = site(&format!(
        "site \"long\" title=\"Long\"\ninclude \"../parts/example.kdl\"\nlevel \"l\" title=\"L\" {{ room \"hall\" title=\"Hall\"; }}\n\
         panel \"p\" part=\"control-a\" room=\"hall\"\narea \"a\" title=\"A\"\n\
         zone 1 \"Long\" type=\"perimeter\" area=\"a\" {{ loop \"end-of-line\" board=\"p\" input=1 {{\n{runs}}} }}\n"
    ));
    let figures = plain(&made, "loop-figures");
    assert!(figures.contains("| [at rest](#zone-1-s1) | e1 + … + e401 |"), "{figures}");
    // At rest, 200 contacts, all of them, and 3 cable faults of each of 200 runs.
    assert!(figures.contains("742 more: “loopwright why” with zone=1 unfolds them."), "{figures}");
    assert!(figures.len() < 150_000, "{}", figures.len());
    assert!(
        plain(&made, "loop-sheet").contains("](loop-figures.md#zone-1)"),
        "states without a row lead to their zone"
    );
}
