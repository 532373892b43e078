//! Parts and types of cable.

use crate::base::Spanned;
use crate::model::{
    AcPort, Band, BandEdges, BatteryPort, BusPort, CableType, Charger, Conductor, ContactData, Coverage, Draw,
    FaultContact, Input, LinePort, MarkWritten, OtherTerminal, Output, Part, RadioData, Sensing, Setting, Sound,
    SupplyNeed, Take,
};
use crate::quantity::{Amperes, Celsius, Decibels, Metres, Ohms, OhmsPerMetre, Ratio, Seconds, Volts, WireSize};
use crate::schema::{Datum, Kind, Reading};
use crate::terms::{
    BandName, Basis, BoardPart, Connect, ContactForm, Fails, LoopWiring, MadeFor, Metal, MountingBox, Radio, Senses,
    Shield, SupplyForm, SwitchedSide, Use, When, Works,
};

use super::switching::{own_supply_of, switches_of};
use super::{Lower, Top, sorted, title_of, two_wire};

impl Lower<'_> {
    pub(super) fn part_sheets(&mut self, tops: &[Top<'_>]) {
        for (reading, shared) in sorted(tops, "part", "name") {
            let Some(name) = reading.text("name") else { continue };
            let part = part_of(reading, name.clone(), shared);
            let id = self.site.parts.push(part);
            self.parts.enter(&name.value, id);
        }
    }

    pub(super) fn cable_types(&mut self, tops: &[Top<'_>]) {
        for (reading, shared) in sorted(tops, "cable", "name") {
            let size = reading.quantity::<WireSize>("size");
            // A size that could not be read was reported, and is not one that nobody knows.
            let read = size.is_some() || !reading.wrote("size");
            let (Some(name), Some(count), true) = (reading.text("name"), reading.count("conductors"), read) else {
                if let Some(name) = reading.text("name") {
                    self.names.poison(&name.value);
                }
                continue;
            };
            let conductors = reading
                .all("conductor")
                .filter_map(|conductor| {
                    Some(Conductor {
                        colour: conductor.colour("colour")?,
                        purpose: conductor.word("for", Use::from_word).map(|word| word.value),
                    })
                })
                .collect();
            let id = self.site.cables.push(CableType {
                title: title_of(reading, &name.value),
                name: name.clone(),
                count,
                size: size.map(|size| size.value),
                jacket: reading.text("jacket"),
                shield: reading.word("shield", Shield::from_word).map(|word| word.value),
                made_for: reading
                    .word("made-for", MadeFor::from_word)
                    .unwrap_or(Spanned::new(MadeFor::Indoors, name.span)),
                stranded: reading.flag("stranded"),
                metal: reading.word("metal", Metal::from_word).unwrap_or(Spanned::new(Metal::Copper, name.span)),
                diameter: reading.quantity::<Metres>("diameter").map(|length| length.value),
                resistance: reading.quantity::<OhmsPerMetre>("resistance"),
                box_length: reading.quantity::<Metres>("box").map(|length| length.value),
                conductors,
                shared,
            });
            self.cables.enter(&name.value, id);
        }
    }
}

fn part_of(reading: &Reading, name: Spanned<String>, shared: bool) -> Part {
    let basis = reading.one("basis");
    let general = || reading.all("sensing").filter(|sensing| !sensing.wrote("wiring"));
    let mut inputs: Vec<Input> = reading.all("input").filter_map(input_of).collect();
    inputs.sort_by_key(|input| input.number.value);
    let mut outputs: Vec<Output> = reading.all("output").filter_map(output_of).collect();
    outputs.sort_by(|a, b| a.name.value.cmp(&b.name.value));
    let mut bus_ports: Vec<BusPort> = reading.all("bus-port").filter_map(bus_port_of).collect();
    bus_ports.sort_by(|a, b| a.name.value.cmp(&b.name.value));
    let mut line_ports: Vec<LinePort> = reading.all("line-port").filter_map(line_port_of).collect();
    line_ports.sort_by(|a, b| a.name.value.cmp(&b.name.value));
    let mut others: Vec<OtherTerminal> = reading.all("terminal").filter_map(other_terminal_of).collect();
    others.sort_by(|a, b| a.mark.value.cmp(&b.mark.value));
    Part {
        title: title_of(reading, &name.value),
        name,
        senses: reading.word("senses", Senses::from_word).map(|word| word.value),
        board: reading.word("board", BoardPart::from_word).map(|word| word.value),
        works: reading.word("works", Works::from_word).map(|word| word.value),
        fails: reading.word("fails", Fails::from_word).map(|word| word.value),
        rating: reading.quantity::<Celsius>("rating"),
        replace_after: reading.quantity::<Seconds>("replace-after").map(|age| age.value),
        mounting_box: reading.word("box", MountingBox::from_word).map(|word| word.value),
        hole: reading.quantity::<Metres>("hole").map(|diameter| diameter.value),
        basis: basis.and_then(|b| b.word("kind", Basis::from_word)).map(|word| word.value),
        reference: basis.and_then(|b| b.text("ref")).map(|text| text.value),
        shared,
        whole: reading.all_whole(),
        contacts: reading.all("contact").filter_map(|c| contact_of(c, "alarm")).collect(),
        tamper: reading.one("tamper").and_then(|t| contact_of(t, "tamper")),
        loop_fed: reading.one("loop-fed").and_then(two_wire::loop_fed_of),
        fault: reading.one("fault-contact").and_then(fault_contact_of),
        supply: reading.one("supply").and_then(supply_of),
        sound: reading.one("sound").and_then(sound_of),
        coverage: reading.one("coverage").and_then(coverage_of),
        own_supply: reading.one("own-supply").and_then(own_supply_of),
        terminals: reading.one("terminals").map(|t| t.texts("marks")).unwrap_or_default(),
        ac_port: reading.one("ac-port").and_then(ac_port_of),
        battery_port: reading.one("battery-port").and_then(battery_port_of),
        earth: reading.one("earth-terminal").and_then(|earth| earth.text("mark")),
        others,
        inputs,
        sensing: general().next().map(sensing_of),
        sensing_again: general().nth(1).map(|again| Spanned::new((), again.name_span)),
        settings: reading.all("sensing").filter_map(setting_of).collect(),
        marks: marks_of(reading),
        outputs,
        switches: switches_of(reading),
        bus_ports,
        line_ports,
        draw: reading.one("draw").and_then(draw_of),
        charger: reading.one("charger").and_then(|charger| {
            Some(Charger {
                current: charger.quantity::<Amperes>("current")?.value,
                cut_off: charger.quantity::<Volts>("cut-off").map(|v| v.value),
                drop: charger.quantity::<Volts>("drop").map(|v| v.value),
            })
        }),
        wires_per_terminal: reading.one("screw").and_then(|s| s.count("wires")).map(|n| n.value),
        radio: reading.one("radio").and_then(|radio| {
            Some(RadioData {
                role: radio.word("role", Radio::from_word)?.value,
                capacity: radio.count("capacity").map(|n| n.value),
                battery_life: radio.quantity::<Seconds>("battery-life").map(|t| t.value),
            })
        }),
    }
}

/// The marks of terminals in the nodes of a part, but for the list of them.
fn marks_of(part: &Reading) -> Vec<MarkWritten> {
    let of = |(of, reading): (usize, &Reading)| -> Vec<MarkWritten> {
        let spec = reading.spec;
        let arguments = spec.arguments.iter().filter(|row| !row.many).map(|row| (row.name, row.kind));
        let fields = arguments.chain(spec.properties.iter().map(|row| (row.name, row.kind)));
        let name = reading.fields().first().and_then(|(_, datum)| {
            if let Datum::Text(text) = &datum.value {
                Some(text.clone())
            } else if let Datum::Integer(number) = datum.value {
                Some(number.to_string())
            } else {
                None
            }
        });
        let name = name.filter(|_| spec.arguments.first().is_some_and(|row| !matches!(row.kind, Kind::Terminal)));
        let marks = fields.filter(|(_, kind)| matches!(kind, Kind::Terminal));
        let written = marks.filter_map(|(field, _)| {
            let mark = reading.text(field)?;
            Some(MarkWritten { of, node: spec.name, name: name.clone(), field, mark })
        });
        written.collect()
    };
    let mut marks: Vec<MarkWritten> = part.children.iter().enumerate().flat_map(of).collect();
    marks.sort_by_key(|written| written.mark.span.start);
    marks
}

fn contact_of(reading: &Reading, default_mark: &str) -> Option<ContactData> {
    Some(ContactData {
        form: reading.word("form", ContactForm::from_word)?.value,
        resistance: reading.quantity::<Ohms>("resistance").map(|r| r.value).unwrap_or_default(),
        mark: reading.text("terminals").map_or_else(|| default_mark.to_owned(), |mark| mark.value),
    })
}

fn fault_contact_of(reading: &Reading) -> Option<FaultContact> {
    let (a, b) = (reading.text("a")?, reading.text("b")?);
    let mark = format!("{} and {}", a.value, b.value);
    Some(FaultContact {
        contact: ContactData {
            form: reading.word("form", ContactForm::from_word)?.value,
            resistance: reading.quantity::<Ohms>("resistance").map(|r| r.value).unwrap_or_default(),
            mark,
        },
        a,
        b,
    })
}

fn supply_of(reading: &Reading) -> Option<SupplyNeed> {
    let idle = reading.quantity::<Take>("idle")?.value;
    Some(SupplyNeed {
        min: reading.quantity::<Volts>("min")?.value,
        max: reading.quantity::<Volts>("max").map(|v| v.value),
        idle,
        alarm: reading.quantity::<Take>("alarm").map_or(idle, |take| take.value),
        form: form_of(reading),
        common: reading.word("common", SwitchedSide::from_word).map(|side| side.value),
        coil: reading.flag("coil"),
        diode: reading.flag("diode"),
        positive: reading.text("positive").map_or_else(|| "+".to_owned(), |mark| mark.value),
        negative: reading.text("negative").map_or_else(|| "-".to_owned(), |mark| mark.value),
    })
}

fn coverage_of(reading: &Reading) -> Option<Coverage> {
    let angle = reading.count("angle").map_or(360, |angle| angle.value);
    Some(Coverage { range: reading.quantity::<Metres>("range")?.value, angle })
}

fn sound_of(reading: &Reading) -> Option<Sound> {
    Some(Sound { level: reading.quantity::<Decibels>("level")?.value, at: reading.quantity::<Metres>("at")?.value })
}

fn ac_port_of(reading: &Reading) -> Option<AcPort> {
    Some(AcPort {
        a: reading.text("a")?,
        b: reading.text("b")?,
        min: reading.quantity::<Volts>("min").map(|v| v.value),
        max: reading.quantity::<Volts>("max").map(|v| v.value),
    })
}

fn battery_port_of(reading: &Reading) -> Option<BatteryPort> {
    Some(BatteryPort {
        positive: reading.text("positive")?,
        negative: reading.text("negative")?,
        connect: reading.word("connect", Connect::from_word).map(|word| word.value),
    })
}

fn other_terminal_of(reading: &Reading) -> Option<OtherTerminal> {
    Some(OtherTerminal { mark: reading.text("mark")?, purpose: reading.text("for")?.value })
}

fn input_of(reading: &Reading) -> Option<Input> {
    Some(Input {
        number: reading.count("number")?,
        signal: reading.text("signal")?.value,
        back: reading.text("return")?.value,
        two_wire: reading.flag("two-wire"),
    })
}

fn sensing_of(reading: &Reading) -> Sensing {
    let bands = reading
        .all("band")
        .flat_map(|band| {
            let [low_volts, high_volts] = ["min", "max"].map(|edge| band.quantity::<Volts>(edge).map(|e| e.value));
            let [low_ohms, high_ohms] = ["min", "max"].map(|edge| band.quantity::<Ohms>(edge).map(|e| e.value));
            let in_ohms = (low_ohms.is_some() || high_ohms.is_some()).then_some(BandEdges::Ohms(low_ohms, high_ohms));
            let in_volts = low_volts.is_some() || high_volts.is_some() || in_ohms.is_none();
            let in_volts = in_volts.then_some(BandEdges::Volts(low_volts, high_volts));
            // A band in two units stands as two: a check tells of them.
            let edges = in_volts.into_iter().chain(in_ohms);
            edges.filter_map(|edges| Some(Band { reads: band.word("reads", BandName::from_word)?, edges }))
        })
        .collect();
    Sensing {
        place: Spanned::new((), reading.name_span),
        supply: reading.quantity::<Volts>("supply").map(|v| v.value),
        pull_up: reading.quantity::<Ohms>("pull-up").map(|r| r.value),
        tolerance: reading.quantity::<Ratio>("tolerance").map_or(Ratio(0.01), |t| t.value),
        supply_tolerance: reading.quantity::<Ratio>("supply-tolerance").map(|t| t.value).unwrap_or_default(),
        bands,
        feed: reading.one("loop-feed").map(two_wire::loop_feed_of),
    }
}

fn setting_of(reading: &Reading) -> Option<Setting> {
    Some(Setting { wiring: reading.word("wiring", LoopWiring::from_word)?, sensing: sensing_of(reading) })
}

fn output_of(reading: &Reading) -> Option<Output> {
    Some(Output {
        name: reading.text("name")?,
        positive: reading.text("positive")?.value,
        negative: reading.text("negative")?.value,
        volts: reading.quantity::<Volts>("volts")?.value,
        tolerance: reading.quantity::<Ratio>("tolerance").map(|t| t.value).unwrap_or_default(),
        drop: reading.quantity::<Volts>("drop").map(|v| v.value).unwrap_or_default(),
        least: reading.quantity::<Volts>("least").map(|v| v.value),
        limit: reading.quantity::<Amperes>("limit")?.value,
        switched: reading.flag("switched"),
        when: reading.word("when", When::from_word).map_or(When::Always, |when| when.value),
        form: form_of(reading),
    })
}

fn form_of(reading: &Reading) -> SupplyForm {
    reading.word("form", SupplyForm::from_word).map_or(SupplyForm::Steady, |form| form.value)
}

fn bus_port_of(reading: &Reading) -> Option<BusPort> {
    Some(BusPort {
        name: reading.text("name")?,
        plus: reading.text("plus")?.value,
        minus: reading.text("minus")?.value,
        a: reading.text("a")?.value,
        b: reading.text("b")?.value,
        shield: reading.text("shield"),
        shield_at_both_ends: reading.flag("shield-at-both-ends"),
        terminator: reading.quantity::<Ohms>("terminator").map(|r| r.value),
        bias: reading.quantity::<Ohms>("bias").map(|r| r.value),
        bias_supply: reading.quantity::<Volts>("bias-supply").map(|v| v.value),
        bias_tolerance: reading.quantity::<Ratio>("bias-tolerance").map(|t| t.value).unwrap_or_default(),
        unit_load: reading.quantity::<Ratio>("unit-load").map_or(Ratio(1.0), |load| load.value),
        limit: reading.quantity::<Amperes>("limit").map(|i| i.value),
        volts: reading.quantity::<Volts>("volts").map(|v| v.value),
        addresses: match (reading.count("first-address"), reading.count("last-address")) {
            (None, None) => None,
            (first, last) => Some((first.map_or(0, |n| n.value), last.map_or(255, |n| n.value))),
        },
    })
}

fn line_port_of(reading: &Reading) -> Option<LinePort> {
    Some(LinePort {
        name: reading.text("name")?,
        in_tip: reading.text("in-tip")?.value,
        in_ring: reading.text("in-ring")?.value,
        out_tip: reading.text("out-tip").map(|mark| mark.value),
        out_ring: reading.text("out-ring").map(|mark| mark.value),
    })
}

fn draw_of(reading: &Reading) -> Option<Draw> {
    let idle = reading.quantity::<Take>("idle")?.value;
    Some(Draw {
        idle,
        alarm: reading.quantity::<Take>("alarm").map_or(idle, |take| take.value),
        min: reading.quantity::<Volts>("min").map(|v| v.value),
        max: reading.quantity::<Volts>("max").map(|v| v.value),
    })
}
