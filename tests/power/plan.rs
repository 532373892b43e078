//! Made-up supplies: cables in trees with loads, on a panel's output, on its bus, and on the outputs of modules there.

use std::fmt::Write as _;

use crate::loops::random::Random;

/// Cable types: name, size, stranding, and the most Ω/km that a conductor has at 20 °C, where that is limited (IEC 60228,
/// class 5).
pub const CABLES: [(&str, Size, bool, Option<f64>); 4] = [
    ("c22", Size::Gauge(22), false, None),
    ("c18", Size::Gauge(18), false, None),
    ("c16", Size::Gauge(16), true, None),
    ("m05", Size::Area(0.5), true, Some(39.0)),
];

/// The size of a conductor.
#[derive(Clone, Copy, Debug)]
pub enum Size {
    Gauge(i32),
    Area(f64),
}

impl Size {
    /// mm²; of a gauge by the formula of ASTM B258.
    fn area(self) -> f64 {
        match self {
            Self::Gauge(gauge) => {
                let diameter = 0.127 * 92_f64.powf(f64::from(36 - gauge) / 39.0);
                std::f64::consts::PI / 4.0 * diameter * diameter
            }
            Self::Area(area) => area,
        }
    }

    fn text(self) -> String {
        match self {
            Self::Gauge(gauge) => format!("(AWG){gauge}"),
            Self::Area(area) => format!("(mm2){area}"),
        }
    }
}

/// What a cable passes, with its coldest and hottest temperature; both ends are inside, from 5 to 35 °C.
pub const PASSAGES: [(&str, f64, f64); 4] =
    [("", 5.0, 35.0), ("attic", -20.0, 60.0), ("outdoors", -30.0, 50.0), ("underground", -5.0, 35.0)];

/// What a load takes.
#[derive(Clone, Copy, Debug)]
pub enum Take {
    Milliamperes(f64),
    Milliwatts(f64),
}

/// A load: at rest and in alarm.
#[derive(Clone, Copy, Debug)]
pub struct Load {
    pub idle: Take,
    pub alarm: Take,
}

/// The far end of a cable.
#[derive(Clone, Debug)]
pub struct Place {
    /// The place that the cable comes from; `None` for the supply.
    pub before: Option<usize>,
    pub cable: usize,
    pub passage: usize,
    pub feet: f64,
    pub pairs: u32,
    pub loads: Vec<Load>,
}

/// A supply's tree. The first `modules` places are a bus with a module each, in a chain; zero for an output's tree.
#[derive(Clone, Debug)]
pub struct Plan {
    pub modules: usize,
    pub places: Vec<Place>,
}

impl Plan {
    /// A plan; the same seed gives the same.
    pub fn new(seed: u64) -> Self {
        let mut random = Random::new(seed);
        let modules = if random.below(3) == 0 { 1 + random.below(3) } else { 0 };
        let count = modules + 1 + random.below(9);
        let places = (0..count).map(|at| place(&mut random, at, modules)).collect();
        Self { modules, places }
    }

    /// Volts per ampere of the cable to a place, at its coldest and hottest.
    pub fn ohms(&self, place: usize, hot: bool) -> f64 {
        let place = &self.places[place];
        let (_, size, stranded, most) = CABLES[place.cable];
        let (_, coldest, hottest) = PASSAGES[place.passage];
        let kelvin = if hot { hottest } else { coldest } - 20.0;
        let lay = if stranded { 1.02 } else { 1.0 };
        let copper = lay / 58.0 / size.area();
        let per_metre = most.filter(|_| hot).map_or(copper, |most| most / 1000.0);
        2.0 * place.feet * 0.3048 * per_metre * (1.0 + 0.00393 * kelvin) / f64::from(place.pairs)
    }

    /// Text of the spec, with a panel of its own named by a number, and names that begin with it.
    pub fn text(&self, number: usize) -> String {
        let mut text = format!("panel \"p{number}\" part=\"board\" room=\"r\" {{ battery capacity=(Ah)7; }}\n");
        if self.modules == 0 {
            let tops = self.children(None);
            self.circuits(&mut text, number, &format!("p{number}"), &tops);
            return text;
        }
        writeln!(text, "bus \"b{number}\" board=\"p{number}\" {{").unwrap();
        for at in 0..self.modules {
            let load = self.places[at].loads[0];
            writeln!(text, "{}", self.run_open(at)).unwrap();
            writeln!(text, "module \"m{number}-{at}\" part=\"module-{}\" address={}\n}}", name(load), at + 1).unwrap();
        }
        text.push_str("}\n");
        for at in 0..self.modules {
            let tops: Vec<usize> = self.children(Some(at)).into_iter().filter(|child| *child >= self.modules).collect();
            self.circuits(&mut text, number, &format!("m{number}-{at}"), &tops);
        }
        text
    }

    /// The parts that the plan uses: devices and modules by what they take.
    pub fn parts(&self, into: &mut std::collections::BTreeMap<String, String>) {
        for (at, place) in self.places.iter().enumerate() {
            for load in &place.loads {
                let (idle, alarm) = (quantity(load.idle), quantity(load.alarm));
                let name = name(*load);
                if at < self.modules {
                    into.insert(format!("module-{name}"), format!("basis \"sheet\"; draw idle={idle} alarm={alarm} min=(V)1; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)9; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; "));
                } else {
                    into.insert(name, format!("basis \"sheet\"; supply min=(V)1 idle={idle} alarm={alarm}; "));
                }
            }
        }
    }

    fn children(&self, of: Option<usize>) -> Vec<usize> {
        (0..self.places.len()).filter(|at| self.places[*at].before == of).collect()
    }

    fn circuits(&self, text: &mut String, number: usize, board: &str, tops: &[usize]) {
        for top in tops {
            writeln!(text, "circuit \"c{number}-{top}\" board=\"{board}\" output=\"out\" {{").unwrap();
            self.run(text, *top);
            text.push_str("}\n");
        }
    }

    fn run_open(&self, at: usize) -> String {
        let place = &self.places[at];
        let passes = match PASSAGES[place.passage].0 {
            "" => String::new(),
            passage => format!(" passes=\"{passage}\""),
        };
        format!(
            "run \"{}\" length=(ft){} pairs={} room=\"r\"{passes} {{",
            CABLES[place.cable].0, place.feet, place.pairs
        )
    }

    fn run(&self, text: &mut String, at: usize) {
        writeln!(text, "{}", self.run_open(at)).unwrap();
        for load in &self.places[at].loads {
            writeln!(text, "sounder \"{}\"", name(*load)).unwrap();
        }
        for child in self.children(Some(at)) {
            self.run(text, child);
        }
        text.push_str("}\n");
    }
}

fn place(random: &mut Random, at: usize, modules: usize) -> Place {
    let on_bus = at < modules;
    let before = match at {
        0 => None,
        _ if on_bus => Some(at - 1),
        // A tree on an output may start at the supply again; on a bus everything else hangs on a module.
        _ => Some(random.below(at)).filter(|_| modules > 0 || random.below(4) > 0),
    };
    let loads = if on_bus { 1 } else { random.below(3) };
    Place {
        before,
        cable: random.below(CABLES.len()),
        passage: random.below(PASSAGES.len()),
        feet: 5.0 + random.below(1200) as f64 / 8.0,
        pairs: 1 + random.below(2) as u32,
        loads: (0..loads).map(|_| load(random)).collect(),
    }
}

/// A load in alarm takes at least what it takes at rest.
pub fn load(random: &mut Random) -> Load {
    let (idle, more) = (random.below(25) as f64, random.below(60) as f64);
    match random.below(2) {
        0 => Load { idle: Take::Milliamperes(idle), alarm: Take::Milliamperes(idle + more) },
        _ => Load { idle: Take::Milliwatts(12.0 * idle), alarm: Take::Milliwatts(12.0 * (idle + more)) },
    }
}

fn quantity(take: Take) -> String {
    match take {
        Take::Milliamperes(value) => format!("(mA){value}"),
        Take::Milliwatts(value) => format!("(W){}", value / 1000.0),
    }
}

fn name(load: Load) -> String {
    let one = |take| match take {
        Take::Milliamperes(value) => format!("a{value}"),
        Take::Milliwatts(value) => format!("w{value}"),
    };
    format!("{}-{}", one(load.idle), one(load.alarm))
}

/// A spec of many plans, each on a panel of its own.
pub fn spec(plans: &[Plan]) -> String {
    let mut text = "site \"plans\"\nlevel \"l\" { room \"r\"; }\n".to_owned();
    for (name, size, stranded, _) in CABLES {
        let size = size.text();
        writeln!(text, "cable \"{name}\" conductors=12 size={size} stranded=#{stranded}").unwrap();
    }
    text.push_str(
        "part \"board\" { basis \"sheet\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(A)9; \
         bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" volts=(V)13.8 limit=(A)9; \
         charger current=(mA)500 cut-off=(V)10.5; }\n",
    );
    let mut parts = std::collections::BTreeMap::new();
    plans.iter().for_each(|plan| plan.parts(&mut parts));
    for (name, body) in parts {
        writeln!(text, "part \"{name}\" {{ {body}}}").unwrap();
    }
    for (number, plan) in plans.iter().enumerate() {
        text.push_str(&plan.text(number));
    }
    text
}
