//! Cables with the runs that they are and carry, their types and their conductors.

use super::chain::{Does, End, Mounted, Owner, chain};
use super::item::{Printed, Reference, Title, record};
use super::names::{Names, Subject};
use super::number::Number;
use super::places::Point;
use crate::base::Id;
use crate::model;
use crate::quantity::{Metres, OhmsPerMetre};
use crate::register;
use crate::terms::{Joining, Passage, Shield, ShieldEnds, Use};

record! {
    /// A type of cable.
    CableType {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// True where it comes from the shared parts folder.
        shared: bool,
        /// How many cables are of it.
        count: usize,
        /// How many conductors.
        conductors: u32 => "conductors",
        /// Cross-section of one conductor in mm².
        square_millimetres: Option<Number>,
        /// The size as printed.
        size: Printed<model::cable::PrintedSize> => "size",
        /// Jacket type.
        jacket: Option<String> => "jacket",
        /// Its shield, which is none of its conductors: "drain", "braid" or "bare".
        shield: Option<&'static str> => "shield",
        /// Where its sheet lets it lie: "indoors", "outdoors" or "underground".
        made_for: &'static str => "made for",
        /// Whether the conductors are stranded.
        stranded: bool => "stranded",
        /// What the conductors are made of: "copper", "tinned" or "copper-clad".
        metal: &'static str => "metal",
        /// Diameter over the jacket in metres.
        diameter: Option<Metres> => "diameter",
        /// The most ohm that a metre of one conductor has at 20 °C, by its sheet.
        max_ohms_per_metre: Option<OhmsPerMetre> => "resistance",
        /// How much comes in a box, in metres.
        box_length: Option<Metres> => "in a box",
        /// The conductors in order, those of which the colour is given.
        colours: Vec<ColouredConductor> => "conductor",
    }

    /// A conductor of a cable type.
    ColouredConductor {
        /// Colour as a code of IEC 60757.
        colour: String => "",
        /// What it is taken for first.
        purpose: Option<&'static str> => "",
    }

    /// A cable as pulled.
    Cable {
        /// The text on both ends.
        label: String,
        /// The run that it is.
        #[serde(flatten)]
        run: Run,
        /// Other runs that share it.
        guests: Vec<Run>,
        /// Conductors in use, in the order in which they were given out.
        conductors: Vec<Conductor>,
        /// Positions of conductors that are left free, from 1.
        spare: Vec<usize>,
        /// What becomes of its shield at the near end; none where it has none.
        shield_near: Option<ShieldEnd>,
        /// What becomes of its shield at the far end.
        shield_far: Option<ShieldEnd>,
    }

    /// What becomes of a shield at an end.
    ShieldEnd {
        /// "landed", "joined", "landed-and-joined" or "cut-back".
        state: &'static str,
        /// Name of the board on which it is landed, where a terminal for it is known.
        board: Option<String>,
        /// Mark of that terminal.
        terminal: Option<String>,
        /// Labels of the cables whose shields it is joined to.
        joined: Vec<String>,
    }

    /// A run: a piece of the spec from one end of a cable to the other.
    Run {
        /// What a comparison knows it by.
        #[serde(skip)]
        known_as: Subject,
        /// What it belongs to.
        belongs_to: Owner => "belongs to",
        /// Label of the cable at whose far end it starts; none at the board.
        goes_on_from: Option<Reference> => "goes on from",
        /// True for a branch of the run that it starts at.
        branch: bool => "branch",
        /// The name that others refer to, where it has one.
        name: Option<String> => "name",
        /// Name of the cable type.
        #[serde(rename = "type")]
        kind: Option<Reference> => "type",
        /// Conductor pairs side by side for each supply that it carries.
        pairs: u32 => "pairs for each supply",
        /// Length in metres, slack included.
        length: Option<Metres> => "length",
        /// The near end, towards the board.
        from: Place,
        /// The far end.
        to: Place => "",
        /// Name of the joint box, or of the board in whose enclosure it ends and is joined.
        into: Option<Reference> => "joined in",
        /// How its conductors are joined at the far end, where that is not said of the joint box: "screw", "crimp" or
        /// "solder".
        joined_by: Option<&'static str> => "joined by",
        /// True where it was in the wall before, and is neither bought nor pulled.
        existing: bool => "existing",
        /// Label of the cable that it shares.
        shares: Option<Reference> => "shares",
        /// Where its shield is landed, where the spec says so: "near", "far", "both" or "neither".
        shield: Option<&'static str> => "shield landed",
        /// The hardest thing it passes.
        passes: Option<&'static str> => "passes",
        /// The way it takes, in words.
        route: Option<String> => "route",
        /// That way on the plan of the level on which it ends.
        way: Vec<Point> => "way on the plan",
        /// Conductors that are kept for later.
        reserved: Vec<Reserve> => "reserved",
        /// What is at its far end, in order.
        at_far_end: Vec<Mounted> => "at its far end",
    }

    /// A conduit with the cables in it.
    Conduit by title {
        /// Name for people.
        title: String,
        /// Diameter inside in metres.
        inside: Metres => "inside",
        /// Labels of the cables in it.
        holds: Vec<Reference> => "holds",
    }

    /// Conductors of a cable that are kept for later.
    Reserve {
        /// What for.
        kept_for: String => "for",
        /// How many.
        conductors: u32 => "conductors",
    }

    /// Where a cable starts or ends.
    Place {
        /// Name of the board, where it starts at one.
        board: Option<Reference>,
        /// Name of the room.
        room: Option<Reference> => "ends in",
    }

    /// A conductor in use.
    Conductor {
        /// Position in the cable, from 1.
        position: usize,
        /// Colour as a code of IEC 60757.
        colour: Option<String>,
        /// What it does.
        #[serde(flatten)]
        does: Does => "does",
        /// What it meets at the near end.
        near: Vec<End> => "near end",
        /// What it meets at the far end.
        far: Vec<End> => "far end",
    }
}

impl Conduit {
    /// A conduit with the cables in it.
    pub(crate) fn of(names: &Names<'_>, conduit: &model::Conduit) -> Self {
        let model::Conduit { title, inside, runs, whole: _ } = conduit; // a mark of "was reported"
        Self {
            title: title.value.clone(),
            inside: inside.value,
            holds: runs.iter().map(|run| names.run(run.value)).collect(),
        }
    }
}

/// The types of cable, by name.
pub(crate) fn types(names: &Names<'_>) -> Vec<CableType> {
    let of_type = |(id, kind): (Id<model::CableType>, &model::CableType)| {
        let model::CableType {
            name,
            title,
            count,
            size,
            jacket,
            shield,
            stranded,
            metal,
            made_for,
            diameter,
            resistance,
            box_length,
            conductors,
            shared,
        } = kind;
        let coloured = |model::Conductor { colour, purpose }: &model::Conductor| ColouredConductor {
            colour: colour.value.code(),
            purpose: purpose.map(Use::word),
        };
        CableType {
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            shared: *shared,
            count: names.wiring.cables.iter().filter(|cable| cable.kind == id).count(),
            conductors: count.value,
            square_millimetres: size.and_then(|size| Number::of(size.square_millimetres())),
            size: Printed(kind.sized()),
            jacket: jacket.as_ref().map(|jacket| jacket.value.clone()),
            shield: shield.map(Shield::word),
            stranded: *stranded,
            metal: metal.value.word(),
            made_for: made_for.value.word(),
            diameter: *diameter,
            max_ohms_per_metre: resistance.as_ref().map(|most| most.value),
            box_length: *box_length,
            colours: conductors.iter().map(coloured).collect(),
        }
    };
    names.site.cables.entries().map(of_type).collect()
}

/// The cables, in canonical order.
pub(crate) fn cables(names: &Names<'_>) -> Vec<Cable> {
    let of_cable = |cable: &register::Cable| {
        let register::Cable { run, kind: _, label, carries, conductors, spare, shield } = cable; // the run has its type
        let guests = carries.iter().filter(|guest| *guest != run);
        Cable {
            label: label.clone(),
            run: of_run(names, *run),
            guests: guests.map(|guest| of_run(names, *guest)).collect(),
            conductors: conductors.iter().map(|conductor| of_conductor(names, conductor)).collect(),
            spare: spare.iter().map(|position| position + 1).collect(),
            shield_near: shield.as_ref().map(|[near, _]| of_shield(names, near)),
            shield_far: shield.as_ref().map(|[_, far]| of_shield(names, far)),
        }
    };
    names.wiring.cables.iter().map(of_cable).collect()
}

/// Runs that no cable is known of: they have no type, or that of a run which has none.
pub(crate) fn without_cable(names: &Names<'_>) -> Vec<Run> {
    let runs = names.site.runs.entries().map(|(id, _)| id);
    runs.filter(|run| names.label(*run).is_none()).map(|run| of_run(names, run)).collect()
}

fn of_run(names: &Names<'_>, id: Id<model::Run>) -> Run {
    let model::Run {
        owner,
        upstream,
        after: _, // each of them says where it goes on from
        branch,
        order: _, // the chains tell it
        name,
        cable,
        length,
        room,
        into,
        joined,
        label: _, // that of the cable
        existing,
        along,
        along_written: _, // what cannot be resolved was reported
        pairs,
        shield,
        passes,
        route,
        way,
        reserved,
        mounted,
        place: _,
    } = &names.site.runs[id];
    Run {
        known_as: names.run(id).subject,
        belongs_to: names.owner(*owner),
        goes_on_from: upstream.map(|upstream| names.run(upstream)),
        branch: *branch,
        name: name.as_ref().map(|name| name.value.clone()),
        kind: cable.as_ref().map(|kind| names.cable_type(kind.value)),
        pairs: *pairs,
        length: length.as_ref().map(|length| length.value),
        from: near(names, id),
        to: Place { board: None, room: room.map(|room| names.room(room)) },
        into: into.as_ref().map(|board| names.board(board.value)),
        joined_by: joined.map(Joining::word),
        existing: *existing,
        shares: along.as_ref().map(|host| names.run(host.value)),
        shield: shield.as_ref().map(|said| ShieldEnds::word(said.value)),
        passes: passes.as_ref().map(|passes| Passage::word(passes.value)),
        route: route.clone(),
        way: way.iter().map(Point::of).collect(),
        reserved: reserved
            .iter()
            .map(|model::Reserve { name, conductors }| Reserve {
                kept_for: name.value.clone(),
                conductors: *conductors,
            })
            .collect(),
        at_far_end: chain(names, mounted),
    }
}

fn of_shield(names: &Names<'_>, end: &register::ShieldEnd) -> ShieldEnd {
    let register::ShieldEnd { landed, joined } = end;
    let terminal = landed.as_ref().and_then(|landed| match landed {
        register::ShieldLanding::Terminal(board, mark) => Some((names.board(*board).text, mark.clone())),
        register::ShieldLanding::Unnamed => None,
    });
    ShieldEnd {
        state: match (landed.is_some(), joined.is_empty()) {
            (true, true) => "landed",
            (true, false) => "landed-and-joined",
            (false, false) => "joined",
            (false, true) => "cut-back",
        },
        board: terminal.as_ref().map(|(board, _)| board.clone()),
        terminal: terminal.map(|(_, mark)| mark),
        joined: joined.iter().filter_map(|run| names.label(*run)).collect(),
    }
}

/// Where a run starts: at the far end of the one before it, else at its board.
fn near(names: &Names<'_>, run: Id<model::Run>) -> Place {
    let site = names.site;
    Place {
        board: site.start_board(run).map(|board| names.board(board)),
        room: site.start_room(run).map(|room| names.room(room)),
    }
}

fn of_conductor(names: &Names<'_>, conductor: &register::ConductorUse) -> Conductor {
    let register::ConductorUse { position, colour, run, function, near, far } = conductor;
    Conductor {
        position: position + 1,
        colour: colour.map(crate::quantity::Colour::code),
        does: Does::of(names, *run, *function),
        near: near.iter().map(|point| End::of(names, point)).collect(),
        far: far.iter().map(|point| End::of(names, point)).collect(),
    }
}
