//! Laws of the register over houses and remodels that nobody thought of.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use proptest::test_runner::Config;

use super::House;

const BOARD: &str = "part \"big\" title=\"Big board\" {
    basis \"sheet\" ref=\"invented for the laws\"
INPUTS    sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1 {
        band \"short\" max=(V)0.8
        band \"normal\" min=(V)1.6 max=(V)3.1
        band \"open\" min=(V)4.0
    }
    output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(mA)2000
}
panel \"big-a\" part=\"big\" room=\"lobby\"
strip \"ways\" board=\"big-a\" output=\"aux\" ways=60 room=\"lobby\"
";

/// A zone: its number, and the openings that its cable passes, in order. Every third opening has a detector.
#[derive(Clone, Debug)]
struct Loop {
    number: u32,
    openings: Vec<u32>,
    words: u32,
}

#[derive(Clone, Debug)]
struct Plan(Vec<Loop>);

#[derive(Clone, Debug)]
enum Edit {
    Remove(usize),
    Add,
    PutInFront(usize),
    TakeLast(usize),
    Rename(usize),
    /// Marks the first dead cable as off its terminals or as out.
    Confirm(bool),
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        (0usize..8).prop_map(Edit::Remove),
        Just(Edit::Add),
        (0usize..8).prop_map(Edit::PutInFront),
        (0usize..8).prop_map(Edit::TakeLast),
        (0usize..8).prop_map(Edit::Rename),
        any::<bool>().prop_map(Edit::Confirm),
    ]
}

impl Plan {
    fn of(sizes: &[usize]) -> Self {
        let mut next = 0;
        let mut opening = || {
            next += 1;
            next
        };
        let loops = sizes.iter().enumerate().map(|(at, size)| Loop {
            number: u32::try_from(at).unwrap() + 1,
            openings: (0..*size).map(|_| opening()).collect(),
            words: 0,
        });
        Self(loops.collect())
    }

    /// Top-level nodes, one a piece.
    fn nodes(&self) -> Vec<String> {
        let mut nodes = Vec::new();
        let mut windows = String::new();
        for item in &self.0 {
            let mut runs = String::new();
            for (at, opening) in item.openings.iter().enumerate() {
                windows += &format!("window \"w{opening}\"; ");
                let mounted = if opening % 3 == 0 { "detector \"motion\" supply=\"aux\"" } else { "contact \"reed\"" };
                let end = if at + 1 == item.openings.len() { "resistor \"2k2\"" } else { "" };
                runs += &format!("        run \"quad\" length=(ft)9 {{ {mounted} on=\"w{opening}\"; {end} }}\n");
            }
            let (number, words) = (item.number, item.words);
            nodes.push(format!(
                "zone {number} \"Zone {number}, {words}\" type=\"twenty-four-hour\" {{\n    loop \"end-of-line\" board=\"big-a\" {{\n{runs}    }}\n}}\n"
            ));
        }
        let inputs: String =
            (1..=60).map(|n| format!("    input {n} signal=\"I{n}\" return=\"R{}\"\n", (n + 1) / 2)).collect();
        nodes.push(BOARD.replace("INPUTS", &inputs));
        nodes.push(format!("level \"up\" {{ room \"bed\" {{ {windows} }} }}\n"));
        nodes
    }

    fn house(&self) -> House {
        House::new(&self.nodes().concat())
    }

    fn apply(&mut self, edit: &Edit, next: &mut u32) {
        let count = self.0.len();
        let mut new = || {
            *next += 1;
            *next
        };
        match edit {
            Edit::Remove(at) if count > 1 => drop(self.0.remove(at % count)),
            Edit::Add => {
                let number = (1..).find(|number| self.0.iter().all(|item| item.number != *number)).unwrap();
                self.0.push(Loop { number, openings: vec![new()], words: 0 });
            }
            Edit::PutInFront(at) => self.0[at % count].openings.insert(0, new()),
            Edit::TakeLast(at) if self.0[at % count].openings.len() > 1 => drop(self.0[at % count].openings.pop()),
            Edit::Rename(at) => self.0[at % count].words += 1,
            _ => {}
        }
    }
}

/// Label → what stands at the cable's end, in the entries of a register, dead ones included.
fn ends(register: &str) -> BTreeMap<String, String> {
    let mut ends = BTreeMap::new();
    let mut label = "";
    for line in register.lines() {
        if let Some(rest) = line.strip_prefix("label \"") {
            label = &rest[..rest.find('"').unwrap()];
        } else if let Some(rest) = line.trim().strip_prefix("mounted opening=\"") {
            ends.insert(label.to_owned(), rest[..rest.find('"').unwrap()].to_owned());
        }
    }
    ends
}

/// The input terminals and ways that cables in the wall are on: terminal → label. No two may be on one.
fn landed(register: &str) -> BTreeMap<String, String> {
    let mut landed = BTreeMap::new();
    let (mut label, mut off) = ("", false);
    for line in register.lines() {
        if let Some(rest) = line.strip_prefix("label \"") {
            label = &rest[..rest.find('"').unwrap()];
            off = line.contains(" off=#true");
        } else if let Some(at) = line.find("near=\"").filter(|_| !off && !line.contains("loop-back")) {
            let rest = &line[at + 6..];
            let terminal = rest[..rest.find('"').unwrap()].to_owned();
            let other = landed.insert(terminal.clone(), label.to_owned());
            assert!(other.is_none(), "{label} and {other:?} are both on {terminal} in\n{register}");
        }
    }
    landed
}

/// A register in which somebody has written of the first dead cable that it is off its terminals, or out.
fn confirm(register: &str, out: bool) -> String {
    let open = |line: &&str| line.contains(" dead=\"") && !line.contains("#true");
    match register.lines().find(open) {
        Some(line) => {
            let said = if out { " out=#true {" } else { " off=#true {" };
            register.replacen(line, &line.replace(" {", said), 1)
        }
        None => register.to_owned(),
    }
}

/// Nodes dealt to three files in an order.
fn dealt(nodes: &[String], order: &[usize]) -> House {
    let mut texts = [String::from("include \"a.kdl\"\ninclude \"b.kdl\"\n"), String::new(), String::new()];
    let mut left: Vec<&String> = nodes.iter().collect();
    for (turn, pick) in order.iter().cycle().enumerate() {
        if left.is_empty() {
            break;
        }
        texts[(turn + pick) % 3] += left.remove(pick % left.len());
    }
    let [site, a, b] = texts;
    let mut house = House::new(&site);
    house.files.insert("a.kdl".into(), a + "\n");
    house.files.insert("b.kdl".into(), b + "\n");
    house
}

fn config(cases: u32) -> Config {
    Config { cases, failure_persistence: None, ..Config::default() }
}

proptest! {
    #![proptest_config(config(10))]

    #[test]
    fn any_deal_of_nodes_to_files_leaves_the_register_as_it_is(
        sizes in prop::collection::vec(1usize..4, 1..7),
        order in prop::collection::vec(0usize..20, 1..20),
    ) {
        let plan = Plan::of(&sizes);
        let mut house = plan.house();
        house.good();
        let mut other = dealt(&plan.nodes(), &order);
        other.files.insert("register.kdl".into(), house.register().to_owned());
        prop_assert!(other.good().register.is_none());
        other.files.remove("register.kdl");
        other.good();
        prop_assert_eq!(other.register(), house.register());
    }

    #[test]
    fn nothing_moves_and_no_label_is_given_twice_whatever_is_built_and_torn_out(
        sizes in prop::collection::vec(1usize..4, 1..5),
        edits in prop::collection::vec(edit(), 1..10),
    ) {
        let mut plan = Plan::of(&sizes);
        let mut next = 100;
        let mut house = plan.house();
        house.good();
        // Every label that was ever given, with the end of the cable that has it.
        let mut given = ends(house.register());
        for edit in &edits {
            let before = house.register().to_owned();
            plan.apply(edit, &mut next);
            house.spec(&plan.nodes().concat());
            if let Edit::Confirm(out) = edit {
                house.files.insert("register.kdl".into(), confirm(&before, *out));
            }
            let confirmed = house.register() != before;
            house.good();
            let now = house.register();
            let there = ends(now);
            for (label, end) in &there {
                let first = given.entry(label.clone()).or_insert_with(|| end.clone());
                prop_assert_eq!(&*first, end, "label {} was on another cable", label);
            }
            let spent: BTreeSet<&str> = now.lines().filter_map(|line| line.strip_prefix("spent \"")?.strip_suffix('"')).collect();
            for label in given.keys() {
                prop_assert!(there.contains_key(label) || spent.contains(label.as_str()), "{} is forgotten", label);
            }
            // A loop that gets a cable in front starts with that one, and supply that nothing needs any more is taken
            // off; all else is where it was, and what has been confirmed as off may go to another.
            let after = landed(now);
            let front = matches!(edit, Edit::PutInFront(_));
            let last = matches!(edit, Edit::TakeLast(_));
            for (terminal, label) in landed(&before).iter().filter(|_| !front && !confirmed) {
                match after.get(terminal) {
                    None => prop_assert!(last && terminal.starts_with("ways"), "{} has left {}", label, terminal),
                    Some(there) => prop_assert_eq!(there, label, "on {}", terminal),
                }
            }
            prop_assert!(house.good().register.is_none());
        }
    }

    #[test]
    fn comments_and_untouched_entries_survive_every_remodel(
        sizes in prop::collection::vec(1usize..4, 1..5),
        places in prop::collection::vec((0usize..60, any::<bool>()), 1..12),
        edits in prop::collection::vec(edit(), 1..6),
    ) {
        let mut plan = Plan::of(&sizes);
        let mut next = 100;
        let mut house = plan.house();
        house.good();
        let mut lines: Vec<String> = house.register().lines().map(str::to_owned).collect();
        for (number, (at, own_line)) in places.iter().enumerate() {
            let at = at % lines.len();
            let comment = format!("// mine {number}.");
            if *own_line { lines.insert(at, comment) } else { lines[at] += &format!(" {comment}") }
        }
        house.files.insert("register.kdl".into(), lines.join("\n"));
        for edit in &edits {
            plan.apply(edit, &mut next);
            house.spec(&plan.nodes().concat());
            let before = house.clone();
            house.good();
            for number in 0..places.len() {
                let comment = format!("mine {number}.");
                prop_assert!(house.register().contains(&comment), "{} in\n{}", comment, house.register());
            }
            // One edit changes a cable or two: what is not theirs is the same lines.
            let old: BTreeSet<&str> = before.register().lines().collect();
            let changed = house.register().lines().filter(|line| !old.contains(line)).count();
            prop_assert!(changed <= 40, "{} lines are new", changed);
        }
    }
}
